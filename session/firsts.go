package session

import (
	"fmt"
	"slices"

	"strandwise/floats"
)

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
	return limit >= longStretch && slices.ContainsFunc(p.Layout.Fabric.RowFloats(row-1, p.State.Setup.RestLimit), func(fl floats.Float) bool {
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
