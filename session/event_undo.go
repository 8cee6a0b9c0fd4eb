package session

// Undone cancels the newest event that still holds, as if it had never been
// logged. The cast-on, undoings and redoings are not undone this way.
type Undone struct{ Seq uint64 } // number of the event canceled

func (e *Undone) kind() Kind { return KindUndone }

func (e *Undone) validate(s *State) error {
	switch {
	case s.CanUndo == 0:
		name := s.Setup.Name
		e := refuse(CastOnStays, "only the cast-on of %s is left, and a cast-on cannot be undone; remove the piece instead", name)
		e.Piece = name
		return e
	case e.Seq != s.CanUndo:
		return refuse(NotNewest, "cannot undo event %d: event %d comes first; undo that one", e.Seq, s.CanUndo)
	}
	return nil
}

// apply does nothing: what an undoing does is up to Fold.
func (e *Undone) apply(*State, stamp) {}

func (e *Undone) fields(w *wire, _ Kind) { w.uint(&e.Seq) }

func (e *Undone) words(t historyWords) string { return "undid " + t.quoted(e.Seq) }
