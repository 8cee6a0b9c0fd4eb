package session

// Redone cancels an undoing, so that what it canceled holds again. Once something
// new is logged, the undoings before it stay.
type Redone struct{ Seq uint64 } // number of the undoing canceled

func (e *Redone) kind() Kind { return KindRedone }

func (e *Redone) validate(s *State) error {
	switch {
	case s.CanRedo == 0:
		return &NothingToRedoError{}
	case e.Seq != s.CanRedo:
		return &NotNewestError{Redo: true, Seq: e.Seq, Newest: s.CanRedo}
	}
	return nil
}

// apply does nothing: what a redoing does is decided before any event is applied.
func (e *Redone) apply(*State, stamp) {}

func (e *Redone) fields(w *wire, _ Kind) { w.uint(&e.Seq) }

func (e *Redone) words(t historyWords) string {
	if entry, ok := t.state.Entry(e.Seq); ok {
		if undone, ok := entry.Event.(*Undone); ok {
			return "redid " + t.quoted(undone.Seq)
		}
	}
	return "redid " + t.quoted(e.Seq)
}
