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
	Charts []*chart.Chart // by part, nil for plain rows
}

// Lay lays out the piece. Errors are those of charts and of floats.Lay.
func (s *State) Lay(charts Charts) (*Layout, error) {
	var whole *Layout
	var last []PartRef
	for _, seg := range s.Segments {
		if slices.Equal(last, seg.Parts) {
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
		return nil, &NotCastOnError{}
	}
	return whole, nil
}

// LayParts lays parts out by themselves, as for a piece not cast on yet. Errors are
// those of charts and of floats.Lay.
func LayParts(parts []PartRef, charts Charts, w floats.Work) (*Layout, error) {
	l := &Layout{Parts: parts}
	var laid []floats.Part
	for _, ref := range parts {
		var c *chart.Chart
		if !ref.IsPlain() {
			var err error
			if c, err = charts(ref.Hash); err != nil {
				return nil, fmt.Errorf("part %s: %w", ref.Name, err)
			}
		}
		l.Charts = append(l.Charts, c)
		laid = append(laid, ref.Part(c))
	}
	var err error
	l.Fabric, err = floats.Lay(laid, w)
	return l, err
}

func (l *Layout) splice(from int, next *Layout) error {
	f, err := floats.Splice(l.Fabric, from, next.Fabric, len(l.Parts))
	if err != nil {
		return err
	}
	l.Fabric = f
	l.Parts = append(slices.Clip(l.Parts), next.Parts...)
	l.Charts = append(slices.Clip(l.Charts), next.Charts...)
	return nil
}

// backgrounds tells for a part which yarns of the fabric are its background; all
// others are pattern. Plain rows have none.
func (l *Layout) backgrounds(part int) map[int]bool {
	c := l.Charts[part]
	if c == nil {
		return nil
	}
	yarns := map[int]bool{}
	for _, y := range c.BackgroundYarns() {
		yarns[l.Fabric.Yarn(c.Yarns[y].Symbol)] = true
	}
	return yarns
}
