package session

import "fmt"

// Paused keeps the place in the row being worked. With a place of 0 the row is not begun
// any more.
type Paused struct {
	Stitch int // stitches of the row that are worked; 0 when none is
}

// Kind says which event it is.
func (e *Paused) Kind() Kind { return KindPaused }

func (e *Paused) validate(s *State) error {
	if err := s.open(); err != nil {
		return err
	}
	if total := s.Total(); s.Row == total {
		return &FinishedError{Rows: total, Round: s.round()}
	}
	return checkRange("stitch", e.Stitch, 0)
}

func (e *Paused) apply(s *State, _ stamp) {
	s.Begun = e.Stitch
	if e.Stitch == 0 {
		s.OnNeedle = nil
		s.lowerSegments()
	}
}

func (e *Paused) encode(b []byte) []byte { return appendInt(b, e.Stitch) }

func decodePaused(r *reader) Event { return &Paused{Stitch: r.int()} }

func (e *Paused) words(t historyWords) string {
	if e.Stitch == 0 {
		return "place in the " + t.row() + " cleared"
	}
	return fmt.Sprintf("paused after stitch %d", e.Stitch)
}
