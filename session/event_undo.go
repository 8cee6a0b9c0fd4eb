package session

// Undone cancels the newest event that still holds, as if it had never been
// logged. The cast-on, undoings and redoings are not undone this way.
type Undone struct{ Seq uint64 } // number of the event canceled

func (e *Undone) validate(s *State) error {
	switch {
	case s.CanUndo == 0:
		name := s.Setup.Name
		e := refuse("only the cast-on of %s is left, and a cast-on cannot be undone; remove the piece instead", name)
		e.Piece = name
		return e
	case e.Seq != s.CanUndo:
		return refuse("cannot undo event %d: event %d comes first; undo that one", e.Seq, s.CanUndo).instead("strandwise history")
	}
	return nil
}

// apply goes back to the state that the newest step had met.
func (e *Undone) apply(s *State, log []Entry) {
	step, taken := s.holds.first, s.taken
	cancel(log, step, true)
	*s = *log[step].met
	s.clip()
	s.taken, s.until = &loggedStep{step, len(log) - 1, taken}, 0
}

func (e *Undone) words(t historyWords) string { return "undid " + t.quoted(e.Seq) }
