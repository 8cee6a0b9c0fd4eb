package session

import "fmt"

// NoteClosed marks a note as dealt with.
type NoteClosed struct{ Seq uint64 } // number of the event that made the note

// Kind says which event it is.
func (e *NoteClosed) Kind() Kind { return KindNoteClosed }

func (e *NoteClosed) validate(s *State) error {
	if !s.begun() {
		return &NotCastOnError{}
	}
	n := s.note(e.Seq)
	if n == nil || n.Closed {
		return &NoSuchNoteError{Seq: e.Seq, Closed: n != nil}
	}
	return nil
}

func (e *NoteClosed) apply(s *State, _ stamp) { s.note(e.Seq).Closed = true }

func (e *NoteClosed) encode(b []byte) []byte { return appendSeq(b, e.Seq) }

func decodeNoteClosed(r *reader) Event { return &NoteClosed{Seq: r.uvarint()} }

func (e *NoteClosed) words(historyWords) string { return fmt.Sprintf("note %d closed", e.Seq) }
