package session

import (
	"cmp"
	"fmt"
)

// Paused keeps the place in the row being worked; at 0 the row is not begun any more.
type Paused struct {
	Stitch int // stitches of the row that are worked; 0 when none is
}

func (e *Paused) validate(s *State) error {
	return cmp.Or(s.open(), s.checkNext(s.Row+1), checkRange("stitch", e.Stitch, 0))
}

func (e *Paused) apply(s *State, _ []Entry) {
	s.Begun = e.Stitch
	if e.Stitch == 0 {
		s.OnNeedle = nil
		s.lowerSegments()
	}
}

func (e *Paused) words(t historyWords) string {
	if e.Stitch == 0 {
		return "place in the " + t.row() + " cleared"
	}
	return fmt.Sprintf("paused after stitch %d", e.Stitch)
}
