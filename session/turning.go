package session

import "strandwise/session/hold"

// NewTurns tells of the turns a knitter is to hear of now: those of the pairs of
// yarns that have come to hold.MentionAfter new turns with the last finished row.
// It follows from the log alone, as if she had been told each time it was due. It is
// nil at once where the strands never turn, and else takes time linear in the
// stitches knitted.
func (p *Piece) NewTurns() []hold.Tangle {
	if !p.turning() {
		return nil
	}
	t := &hold.Turns{}
	var due []hold.Tangle
	for row := 1; row <= p.State.Row; row++ {
		p.turn(t, row, p.State.DoneRow(row).Used)
		due = t.Due()
		t.Tell()
	}
	return due
}
