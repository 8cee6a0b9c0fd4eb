package session

import (
	"cmp"
	"fmt"
	"maps"
	"reflect"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// Charts gives the chart with the given hash of its bytes.
type Charts func(hash [32]byte) (*chart.Chart, error)

// Layout is a piece laid out row by row, with what its rows come from. When the plan was changed in
// mid-piece the worked rows lie as they were worked; yarns keep their numbers, new ones follow.
type Layout struct {
	Fabric *floats.Fabric
	Parts  []PartRef                 // by floats.Row.Part
	Charts map[[32]byte]*chart.Chart // of all parts, by hash

	plans   []int    // the first part of each plan; empty until the charts were changed
	grounds [][]rune // by part, the symbols of its background
}

// Lay lays out the piece. Errors are those of charts and of floats.Lay.
func (s *State) Lay(charts Charts) (*Layout, error) {
	var whole *Layout
	for i, seg := range s.Segments {
		if i > 0 && reflect.DeepEqual(s.Segments[i-1].Parts, seg.Parts) {
			continue
		}
		next, err := layParts(seg.Parts, charts, floats.Work{Flat: s.Setup.Flat, Mirror: s.Setup.Mirror})
		if err == nil && whole != nil {
			err = whole.splice(seg.From-1, next)
		}
		if err != nil {
			return nil, err
		}
		whole = cmp.Or(whole, next)
	}
	if whole == nil {
		return nil, refuseNotCastOn()
	}
	return whole, nil
}

func layParts(parts []PartRef, charts Charts, w floats.Work) (*Layout, error) {
	l := &Layout{Parts: parts, Charts: map[[32]byte]*chart.Chart{}}
	laid, err := joined(parts, func(hash [32]byte) (c *chart.Chart, err error) {
		c, err = charts(hash)
		l.Charts[hash] = c
		return c, err
	})
	if err != nil {
		return nil, err
	}
	l.layGrounds()
	l.Fabric, err = floats.Lay(laid, w)
	return l, err
}

func (l *Layout) splice(from int, next *Layout) error {
	f, err := floats.Splice(l.Fabric, from, next.Fabric, len(l.Parts))
	if err != nil {
		return err
	}
	l.Fabric = f
	l.plans = append(l.plans, len(l.Parts))
	l.Parts = slices.Concat(l.Parts, next.Parts)
	l.grounds = append(l.grounds, next.grounds...)
	maps.Copy(l.Charts, next.Charts)
	return nil
}

// lead is the block that the rows of a part are named after: the one that leads in the fabric.
func (l *Layout) lead(part int) PartRef {
	width := func(b PartRef) int {
		if !b.HasChart() {
			return 0
		}
		return l.Charts[b.Hash].Width() * b.Repeats
	}
	return slices.MaxFunc(l.Parts[part].Blocks(), func(a, b PartRef) int { return width(a) - width(b) })
}

// Chart is the chart that the rows of a part are rows of; nil for plain rows.
func (l *Layout) Chart(part int) *chart.Chart {
	if lead := l.lead(part); lead.HasChart() {
		return l.Charts[lead.Hash]
	}
	return nil
}

// planOf gives the parts of the plan a part belongs to, the last one excluded.
func (l *Layout) planOf(part int) (from, to int) {
	bounds := slices.Concat([]int{0}, l.plans, []int{len(l.Parts)})
	next := slices.IndexFunc(bounds, func(first int) bool { return first > part })
	return bounds[next-1], bounds[next]
}

// layGrounds finds the symbols of the background of each part of one plan; all others are pattern.
// Plain rows go with the chart that follows them, or else with the one before, so that a yarn need
// not change hands between them.
func (l *Layout) layGrounds() {
	var near *chart.Chart
	for part := range l.Parts {
		near = cmp.Or(l.Chart(part), near)
	}
	if l.grounds = make([][]rune, len(l.Parts)); near == nil {
		return
	}
	for part := range slices.Backward(l.Parts) {
		near = cmp.Or(l.Chart(part), near)
		for _, yarn := range near.BackgroundYarns() {
			l.grounds[part] = append(l.grounds[part], near.Yarns[yarn].Symbol)
		}
	}
}

// Where a part begins, it may use up another number of stitches than the row below leaves on the
// needle: a rib of 20 stitches, a band of 24. What the chart of one part says is no help there, so
// both numbers are told, at the cast-on and on the row.

// Misfits tells of each row, where a part or a copy of one begins, that does not fit the one below:
// "round 5 of band uses up 24 stitches, and round 4 of plain oat leaves 20".
func (l *Layout) Misfits() []string {
	var all []string
	for row := 2; row <= len(l.Fabric.Rows); row++ {
		if told := l.misfit(row); told != "" {
			all = append(all, told)
		}
	}
	return all
}

func (l *Layout) misfit(row int) string {
	below, here, word := &l.Fabric.Rows[row-2], &l.Fabric.Rows[row-1], RowWord(!l.Fabric.Flat)
	if below.Part == here.Part && below.Copy == here.Copy || below.Makes() == here.Uses() {
		return "" // a chart is checked by itself
	}
	return fmt.Sprintf("%s %d of %s uses up %s, and %s %d of %s leaves %d", word, row, l.Parts[here.Part].Title(),
		plural(here.Uses(), "stitch"), word, row-1, l.Parts[below.Part].Title(), below.Makes())
}
