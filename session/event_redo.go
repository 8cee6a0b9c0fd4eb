package session

// Redone cancels an undoing that nothing new was logged after: what it canceled holds again.
type Redone struct{ Seq uint64 } // number of the undoing canceled

func (e *Redone) validate(s *State) error {
	switch {
	case s.CanRedo == 0:
		return refuse("nothing to redo: no undo since the last change; log the step again instead").instead("strandwise history")
	case e.Seq != s.CanRedo:
		return refuse("cannot redo event %d: event %d comes first; redo that one", e.Seq, s.CanRedo).instead("strandwise history")
	}
	return nil
}

// apply goes back to the state that the undoing had met.
func (e *Redone) apply(s *State, log []Entry) {
	step, undoing := s.taken.first, &log[s.taken.undoing]
	undoing.Canceled = true
	cancel(log, step, false)
	*s = *undoing.met
	s.clip()
	s.until = 0
}

func (e *Redone) words(t historyWords) string {
	if entry, ok := t.state.Entry(e.Seq); ok {
		if undone, ok := entry.Event.(*Undone); ok {
			return "redid " + t.quoted(undone.Seq)
		}
	}
	return "redid " + t.quoted(e.Seq)
}
