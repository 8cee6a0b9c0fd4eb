package session

import (
	"fmt"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// Charts gives the chart with the given hash of its bytes.
type Charts func(hash [32]byte) (*chart.Chart, error)

// Layout is a piece laid out row by row, with what its rows come from. When the
// plan was changed in mid-piece the worked rows lie as they were worked and the rows
// to come as the newest plan has them; yarns keep their numbers, new ones follow.
type Layout struct {
	Fabric *floats.Fabric
	Parts  []PartRef      // by floats.Row.Part
	Charts []*chart.Chart // by part, of blocks that after which rows are named; nil for plain rows

	Blocks [][]*chart.Chart // by part, the charts of its blocks; nil for plain rows and a steek

	leads   []PartRef // by part, the block that Charts is of
	plans   []int     // the first part of each plan; empty until the charts were changed
	grounds [][]rune  // by part, the symbols of its background
}

// Lay lays out the piece. Errors are those of charts and of floats.Lay.
func (s *State) Lay(charts Charts) (*Layout, error) {
	var whole *Layout
	var last []PartRef
	for _, seg := range s.Segments {
		if SameParts(last, seg.Parts) {
			continue
		}
		last = seg.Parts
		next, err := LayParts(seg.Parts, charts, floats.Work{Flat: s.Setup.Flat, Mirror: s.Setup.Mirror})
		if err != nil {
			return nil, err
		}
		if whole == nil {
			whole = next
			continue
		}
		if err := whole.splice(seg.From-1, next); err != nil {
			return nil, err
		}
	}
	if whole == nil {
		return nil, refuseNotCastOn()
	}
	return whole, nil
}

// LayParts lays parts out by themselves, as for a piece not cast on yet. Errors are
// those of charts and of floats.Lay.
func LayParts(parts []PartRef, charts Charts, w floats.Work) (*Layout, error) {
	l := &Layout{Parts: parts}
	var laid []floats.Part
	for _, ref := range parts {
		own, err := ref.charts(charts)
		if err != nil {
			return nil, err
		}
		lead := ref.lead(own)
		l.Charts = append(l.Charts, own[lead])
		l.leads, l.Blocks = append(l.leads, ref.Blocks()[lead]), append(l.Blocks, own)
		laid = append(laid, ref.Part(own))
	}
	l.grounds = grounds(l.Charts)
	var err error
	l.Fabric, err = floats.Lay(laid, w)
	return l, err
}

// charts gives the charts of the blocks of a part, nil for plain rows and a steek.
func (p PartRef) charts(charts Charts) ([]*chart.Chart, error) {
	var all []*chart.Chart
	for _, b := range p.Blocks() {
		if !b.HasChart() {
			all = append(all, nil)
			continue
		}
		c, err := charts(b.Hash)
		if err != nil {
			return nil, fmt.Errorf("part %s: %w", b.Name, err)
		}
		all = append(all, c)
	}
	return all, nil
}

func (l *Layout) splice(from int, next *Layout) error {
	f, err := floats.Splice(l.Fabric, from, next.Fabric, len(l.Parts))
	if err != nil {
		return err
	}
	l.Fabric = f
	l.plans = append(l.plans, len(l.Parts))
	l.Parts = slices.Concat(l.Parts, next.Parts)
	l.Charts, l.Blocks = append(l.Charts, next.Charts...), append(l.Blocks, next.Blocks...)
	l.leads, l.grounds = append(l.leads, next.leads...), append(l.grounds, next.grounds...)
	return nil
}

// planOf gives the parts of the plan a part belongs to, from the first up to the one
// not included.
func (l *Layout) planOf(part int) (from, to int) {
	to = len(l.Parts)
	for _, first := range l.plans {
		if first > part {
			return from, first
		}
		from = first
	}
	return from, to
}

// grounds gives the symbols of the background of each part; all others are pattern. Plain rows go
// with the chart that follows them, or else with the one before, so that a yarn need not change
// hands between them.
func grounds(charts []*chart.Chart) [][]rune {
	all := make([][]rune, len(charts))
	for i := range charts {
		near := charts[i]
		for at := i; near == nil && at < len(charts); at++ {
			near = charts[at]
		}
		for at := i; near == nil && at >= 0; at-- {
			near = charts[at]
		}
		if near != nil {
			for _, yarn := range near.BackgroundYarns() {
				all[i] = append(all[i], near.Yarns[yarn].Symbol)
			}
		}
	}
	return all
}

func (l *Layout) isBackground(part, yarn int) bool {
	return slices.Contains(l.grounds[part], l.Fabric.Yarns[yarn].Symbol)
}
