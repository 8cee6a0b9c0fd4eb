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
	for _, s := range p.passages(row) {
		notes = append(notes, p.floatNote(row, s, shown)...)
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
func (p *Piece) floatNote(row int, fl passage, shown []Mark) []RowNote {
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
func (p *Piece) overStart(row int, fl passage, shown []Mark) []RowNote {
	lower := fl.Row + 1
	below := min(fl.Length, p.Row(lower).Stitches()-fl.Stitch+1)
	above := fl.Length - below
	caught := slices.ContainsFunc(shown, func(m Mark) bool { return fl.passes(m.Yarn, m.Stitch) })
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

// What a knitter is told once, in the row in which it first matters. Common practice.

// slackNote says how to keep the carried yarn from pulling in: with the first catch of the
// piece, and with the first float that runs as far uncaught as any may.
func (p *Piece) slackNote(row int) []RowNote {
	caught := len(p.made(row)) > 0 && !p.anyBelow(row, func(r int) bool { return len(p.made(r)) > 0 })
	if caught || p.runsLong(row) && !p.anyBelow(row, p.runsLong) {
		return []RowNote{{"slack", "spread the last stitches on the needle before a new yarn takes over, so that the strand behind them lies slack"}}
	}
	return nil
}

// anyBelow reports whether something holds for a row below.
func (p *Piece) anyBelow(row int, holds func(int) bool) bool {
	for r := 1; r < row; r++ {
		if holds(r) {
			return true
		}
	}
	return false
}

// longStretch is the fewest stitches that are a long way for a strand: about an inch in
// most colorwork yarns.
const longStretch = 5

// runsLong reports whether a yarn passes the whole limit of a row uncaught.
func (p *Piece) runsLong(row int) bool {
	limit := p.State.SegmentAt(row).Limit
	return limit >= longStretch && slices.ContainsFunc(p.floatsOf(row), func(fl floats.Float) bool {
		return fl.Length == limit && fl.Kind == floats.Within
	})
}

// lostNotes names the rules of a plan that a row to come can no longer keep, because the
// row below it was caught otherwise.
func (p *Piece) lostNotes(row int) []RowNote {
	if row < 2 || row <= p.State.Row || slices.Equal(p.made(row-1), p.Schedule.Row(row-1)) {
		return nil
	}
	lost, err := p.Layout.Fabric.CheckRow(p.deviation(row, p.made(row-1)), asCatches(row-1, p.Shown(row)))
	if err != nil {
		return nil // a row that is begun keeps what an older plan gave it
	}
	var notes []RowNote
	for _, l := range lost {
		notes = append(notes, RowNote{"lost", fmt.Sprintf("%s over the start of the round: %s, since %s %d was caught otherwise; no catch here can mend that",
			p.nameOf(l.Yarn), l.Rule, p.rowWord(), row-1)})
	}
	return notes
}
