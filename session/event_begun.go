package session

import (
	"cmp"
	"fmt"

	"strandwise/floats"
)

// RowBegun keeps a row as it was shown once the first of its stitches are on the needle: until it is
// finished, ripped out or this is undone, no change of plan or hold, nor another terminal, touches it.
type RowBegun struct {
	Row    int           // from 1; always the row after the last finished one
	Stitch int           // stitches of it that are worked, at least 1
	Method floats.Method // by which its catches are made
	Shown  []Mark        // the catches its sheet showed, in order
}

func (e *RowBegun) validate(s *State) error {
	if s.OnNeedle != nil { // and so not bound off
		return refuse("%s %d is begun already; tell how far it is now", s.rowWord(), s.OnNeedle.Row).instead("strandwise pause STITCH")
	}
	return cmp.Or(s.open(), s.checkNext(e.Row), checkRange("stitch", e.Stitch, 1), checkMarks("catches shown", e.Shown))
}

func (e *RowBegun) apply(s *State, _ []Entry) { s.Begun, s.OnNeedle = e.Stitch, e }

func (e *RowBegun) words(t historyWords) string {
	return fmt.Sprintf("%s %d begun, paused after %s", t.row(), e.Row, placeWords(t.laid(e.Row, e.Stitch), e.Stitch))
}
