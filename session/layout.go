package session

import (
	"cmp"
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

	leads   []PartRef                // by part, the block that Charts is of
	plans   []int                    // the first part of each plan; empty until the charts were changed
	grounds []map[int]bool           // by part, filled when first asked for
	uses    map[*floats.Course][]int // filled as asked for
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
	l.Parts = append(slices.Clip(l.Parts), next.Parts...)
	l.Charts = append(slices.Clip(l.Charts), next.Charts...)
	l.leads, l.Blocks = append(slices.Clip(l.leads), next.leads...), append(slices.Clip(l.Blocks), next.Blocks...)
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

// backgrounds tells for a part which yarns of the fabric are its background; all
// others are pattern. Plain rows go with the chart that follows them, or else with the
// one before, so that a yarn need not change hands between them.
func (l *Layout) backgrounds(part int) map[int]bool {
	c := l.chartNear(part)
	if c == nil {
		return nil
	}
	yarns := map[int]bool{}
	for _, y := range c.BackgroundYarns() {
		yarns[l.Fabric.Yarn(c.Yarns[y].Symbol)] = true
	}
	return yarns
}

// chartNear is the chart of a part or, of plain rows, the nearest of their plan: the
// next one upward, else the last below.
func (l *Layout) chartNear(part int) *chart.Chart {
	from, to := l.planOf(part)
	for at := part; at < to; at++ {
		if l.Charts[at] != nil {
			return l.Charts[at]
		}
	}
	for at := part; at >= from; at-- {
		if l.Charts[at] != nil {
			return l.Charts[at]
		}
	}
	return nil
}

// isBackground reports a yarn's role in a part. Roles are asked for in every row, so
// they are kept.
func (l *Layout) isBackground(part, yarn int) bool {
	if l.grounds == nil {
		l.grounds = make([]map[int]bool, len(l.Parts))
		for i := range l.grounds {
			l.grounds[i] = l.backgrounds(i)
		}
	}
	return l.grounds[part][yarn]
}

// yarnsByUse is byUse, counted once for all rows of a course.
func (l *Layout) yarnsByUse(r *floats.Row) []int {
	yarns, known := l.uses[r.Course]
	if !known {
		if l.uses == nil {
			l.uses = map[*floats.Course][]int{}
		}
		yarns = byUse(r)
		l.uses[r.Course] = yarns
	}
	return yarns
}

// byUse lists the yarns of a row, the most used first; of two level the one worked
// first.
func byUse(r *floats.Row) []int {
	var yarns []int
	count := map[int]int{}
	for _, s := range r.InOrder() {
		if count[s.Yarn] == 0 {
			yarns = append(yarns, s.Yarn)
		}
		count[s.Yarn]++
	}
	slices.SortStableFunc(yarns, func(a, b int) int { return cmp.Compare(count[b], count[a]) })
	return yarns
}
