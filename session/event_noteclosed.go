package session

import (
	"fmt"
	"slices"
)

// NoteClosed marks a note as dealt with.
type NoteClosed struct{ Seq uint64 } // number of the event that made the note

func (e *NoteClosed) validate(s *State) error {
	const list = "strandwise note, which lists the open ones"
	n := s.note(e.Seq)
	switch {
	case n == nil:
		return refuse("there is no note %d; see the list of open notes", e.Seq).instead(list)
	case n.Closed:
		return refuse("note %d is already closed; only open notes can be", n.Number).instead(list)
	}
	return nil
}

func (e *NoteClosed) apply(s *State, _ []Entry) {
	s.Notes = slices.Clone(s.Notes)
	s.note(e.Seq).Closed = true
}

func (e *NoteClosed) words(t historyWords) string {
	if n := t.state.note(e.Seq); n != nil {
		return fmt.Sprintf("note %d closed", n.Number)
	}
	return "a note closed" // which was undone since
}
