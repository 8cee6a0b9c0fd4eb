package session

import (
	"fmt"
	"slices"

	"strandwise/floats"
)

// RowNote is something to know about one row, in plain words.
type RowNote struct {
	Kind string `json:"kind"` // what it is about: over-start, rest, across, cut, rejoin, edge, shared, slack or lost
	Text string `json:"text"`
}

// notes tells of yarns that run over the start or wait at the edge, in order of
// yarns. Only what the knitter acts on is told.
func (p *Piece) notes(row int) []RowNote {
	f, rest := p.Layout.Fabric, p.State.Setup.RestLimit
	var notes []RowNote
	shown := p.Shown(row)
	for _, fl := range f.RowFloats(row-1, rest) {
		notes = append(notes, p.floatNote(row, fl, shown)...)
	}
	for _, r := range f.RowRests(row-1, rest) {
		notes = append(notes, p.restNote(row, r)...)
	}
	if row > 1 {
		notes = append(notes, p.turned(row)...)
		notes = append(notes, p.rejoins(row)...)
	}
	if row < p.Rows() {
		notes = append(notes, p.leaves(row)...)
	}
	notes = append(notes, p.sharedNote(row)...)
	notes = append(notes, p.lostNotes(row)...)
	return append(notes, p.slackNote(row)...)
}

// floatNote speaks of floats over the limit that a look at this row alone does not
// show.
func (p *Piece) floatNote(row int, fl floats.Float, shown []Mark) []RowNote {
	if fl.Length <= p.State.SegmentAt(row).Limit {
		return nil
	}
	name := p.yarnName(fl.Yarn)
	switch fl.Kind {
	case floats.OverStart:
		return p.overStart(row, fl, shown)
	case floats.ToEdge:
		return []RowNote{{"edge", fmt.Sprintf("%s runs %s to the edge and waits there", name, plural(fl.Length, "stitch"))}}
	case floats.FromEdge:
		return []RowNote{{"edge", fmt.Sprintf("%s comes from the edge, %s to its first", name, plural(fl.Length, "stitch"))}}
	}
	return nil
}

// overStart says in plain words how a float goes over the start of the round, in the
// round in which it is caught: where there is nothing to do there is nothing to say. One
// that lies in a single round after all is seen in its row.
func (p *Piece) overStart(row int, fl floats.Float, shown []Mark) []RowNote {
	part := p.passageIn(row, fl)
	lower := fl.Row + 1
	below := min(fl.Length, p.Row(lower).Stitches()-fl.Stitch+1)
	above := fl.Length - below
	caught := slices.ContainsFunc(shown, func(m Mark) bool {
		return m.Yarn == fl.Yarn && part.from <= m.Stitch && m.Stitch <= part.to
	})
	if above == 0 || !caught {
		return nil
	}
	limit := p.State.SegmentAt(row).Limit
	text := fmt.Sprintf("%s runs over the start of the round: %s here and %d of round %d are %d together, over the limit of %d",
		p.yarnName(fl.Yarn), plural(below, "stitch"), above, row+1, fl.Length, limit)
	if lower < row {
		text = fmt.Sprintf("%s comes over the start from round %d: %s there and %d here are %d together, over the limit of %d",
			p.yarnName(fl.Yarn), lower, plural(below, "stitch"), above, fl.Length, limit)
	}
	return []RowNote{{"over-start", text}}
}

// turned tells how a yarn is anchored at the edge where flat work was turned: one that is
// worked in neither the last stitch before the turn nor the first after it is led across the
// working yarn for that first stitch, or the two pieces are one long float.
func (p *Piece) turned(row int) []RowNote {
	if !p.Layout.Fabric.Flat {
		return nil
	}
	below, here := p.Row(row-1).InOrder(), p.Row(row).InOrder()
	first, last := here[0].Yarn, below[len(below)-1].Yarn
	side := "right"
	if p.State.Setup.Mirror {
		side = "left"
	}
	var notes []RowNote
	for _, s := range p.YarnPlaces(row) {
		if s.Yarn == first || s.Yarn == last || stitchesIn(p.Row(row-1), s.Yarn) == 0 {
			continue
		}
		there, back := "over", "beneath"
		if s.Place != p.State.GripAt(row).Hands(p.State.Setup.Mirror).Places()[0] {
			there, back = back, there
		}
		notes = append(notes, RowNote{"edge", fmt.Sprintf("at the turn lead %s to the %s %s %s; after the first stitch it comes back %s",
			p.yarnName(s.Yarn), side, there, p.yarnName(first), back)})
	}
	return notes
}

// restNote speaks of a yarn that waits through this row.
func (p *Piece) restNote(row int, r floats.Rest) []RowNote {
	name, next := p.yarnName(r.Yarn), r.ToRow+2
	switch {
	case r.Cut:
		return nil
	case r.Across && r.ToRow == row-1:
		return []RowNote{{"across", fmt.Sprintf(
			"%s waits at the wrong edge for row %d: carry it behind this whole row, or cut and rejoin it, or slide the stitches to the other tip and skip turning",
			name, next)}}
	case (row-1-r.FromRow)%2 == 0:
		return []RowNote{{"rest", fmt.Sprintf(
			"%s waits at the edge until %s %d: before the first stitch lay it over the working yarn", name, p.rowWord(), next)}}
	}
	return nil
}

// leaves tells of yarns to cut after this row.
func (p *Piece) leaves(row int) []RowNote {
	var notes []RowNote
	for _, r := range p.Layout.Fabric.RowRests(row, p.State.Setup.RestLimit) {
		if r.Cut && r.FromRow == row {
			notes = append(notes, RowNote{"cut", fmt.Sprintf("after this %s cut %s: it rests for %s; rejoin it in %s %d",
				p.rowWord(), p.yarnName(r.Yarn), plural(r.ToRow-r.FromRow+1, p.rowWord()), p.rowWord(), r.ToRow+2)})
		}
	}
	return notes
}

// rejoins tells of yarns that were cut and come back in this row.
func (p *Piece) rejoins(row int) []RowNote {
	var notes []RowNote
	for _, r := range p.Layout.Fabric.RowRests(row-2, p.State.Setup.RestLimit) {
		if r.Cut && r.ToRow == row-2 {
			notes = append(notes, RowNote{"rejoin", fmt.Sprintf("rejoin %s in this %s", p.yarnName(r.Yarn), p.rowWord())})
		}
	}
	return notes
}

// sharedNote tells where a third yarn of the row goes.
func (p *Piece) sharedNote(row int) []RowNote {
	var notes []RowNote
	for _, s := range p.YarnPlaces(row) {
		if s.Shares {
			notes = append(notes, RowNote{"shared", fmt.Sprintf("%s is the third yarn: it shares the %s; keep one order from top to bottom",
				p.yarnName(s.Yarn), s.Place)})
		}
	}
	return notes
}

func (p *Piece) yarnName(yarn int) string { return p.Layout.Fabric.Yarns[yarn].Name }

// rowWord is what a row of the piece is called.
func (p *Piece) rowWord() string { return RowWord(!p.Layout.Fabric.Flat) }
