package session

// Undone cancels the newest event that still holds, as if it had never been
// logged. The cast-on, undoings and redoings are not undone this way.
type Undone struct{ Seq uint64 } // number of the event canceled

func (e *Undone) kind() Kind { return KindUndone }

func (e *Undone) validate(s *State) error {
	switch {
	case s.CanUndo == 0:
		return &CastOnStaysError{Name: s.Setup.Name}
	case e.Seq != s.CanUndo:
		return &NotNewestError{Seq: e.Seq, Newest: s.CanUndo}
	}
	return nil
}

// apply does nothing: what an undoing does is decided before any event is applied.
func (e *Undone) apply(*State, stamp) {}

func (e *Undone) fields(w *wire, _ Kind) { w.uint(&e.Seq) }

func (e *Undone) words(t historyWords) string { return "undid " + t.quoted(e.Seq) }
