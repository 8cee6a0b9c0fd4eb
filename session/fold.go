package session

import "slices"

// The steps that hold form a stack, a step being all that one command logged: an undoing takes the
// top off and lays it on a second stack, a redoing brings it back, and a new step is put on top and
// clears the second stack. Each event keeps the state it met, so that the state after an undoing is
// the one that the step undone had met, the state after a redoing the one that the undoing had met,
// and every event is checked against the events it was checked against when it was logged.

type loggedStep struct {
	first   int // index of its first event in the log, by which it is known
	undoing int // and of the event that undid it
	under   *loggedStep
}

type stacks struct {
	holds *loggedStep // the newest that holds; the oldest is the cast-on
	taken *loggedStep // the newest undone of those that can be redone
	until uint64      // number of the last event that belongs to the newest step
}

// Fold reads the log of a piece, which is in order of the numbers, into its state; gaps are allowed. An empty
// log gives a piece that is not cast on. The records must not change afterwards.
//
// The error is an *EventError that wraps a *NewerError, a *MalformedError, or why the event does not follow. The
// time is linear in the size of the log, but that each correction of a row takes another 8 bytes a finished row.
func Fold(records []Record) (*State, error) {
	s, log := &State{}, make([]Entry, 0, len(records))
	for _, r := range records {
		e, err := Decode(r.Kind, r.Payload)
		if err == nil {
			entry := Entry{Seq: r.Seq, At: r.At, Event: e, met: s}
			if pressed, is := e.(*Pressed); is {
				entry.Event, entry.Press = pressed.Event, pressed.Press
			}
			log = append(log, entry)
			s, err = s.after(log)
		}
		if err != nil {
			return nil, &EventError{Seq: r.Seq, Kind: Kind(r.Kind), Err: err}
		}
	}
	s.Records, s.Log = records, log
	return s, nil
}

// after is the state that the newest event of a log leaves. It marks in the log what the event cancels.
func (s *State) after(log []Entry) (*State, error) {
	e := &log[len(log)-1]
	if err := s.Check(e.Event); err != nil {
		return nil, err
	}
	now := *s
	if kind := e.Kind(); kind != KindUndone && kind != KindRedone {
		if kind == KindTogether || e.Seq > s.until {
			now.stacks = stacks{holds: &loggedStep{first: len(log) - 1, under: s.holds}}
		}
		e.step = now.holds.first
	}
	e.Event.apply(&now, log)
	now.LastSeq, now.LastAt, now.CanUndo, now.CanRedo = e.Seq, e.At, 0, 0
	if now.holds.under != nil { // it is not the cast-on
		now.CanUndo = log[now.holds.first].Seq
	}
	if now.taken != nil {
		now.CanRedo = log[now.taken.undoing].Seq
	}
	return &now, nil
}

// cancel says of the events of a step that they do not hold, or do.
func cancel(log []Entry, step int, canceled bool) {
	for i := step; i < len(log) && log[i].step == step; i++ {
		log[i].Canceled = canceled
	}
}

// Undo gives the event that cancels the newest that holds; an error with only the cast-on left.
func (s *State) Undo() (*Undone, error) {
	e := &Undone{Seq: s.CanUndo}
	return e, s.Check(e)
}

// UndoLast gives the events that take back the last n things logged, the newest first. With fewer than n
// to take back it is a *RefusedError.
func (s *State) UndoLast(n int) ([]Event, error) {
	if _, err := s.Undo(); err != nil {
		return nil, err
	}
	var events []Event
	for step := s.holds; step.under != nil && len(events) < n; step = step.under {
		events = append(events, &Undone{Seq: s.Log[step.first].Seq})
	}
	if len(events) < n {
		return nil, refuse("only %s can be undone; the cast-on stays", plural(len(events), "thing")).
			instead("strandwise history, which tells what was logged")
	}
	return events, nil
}

// Redo gives the event that takes the newest undoing back; an error with none since the last change.
func (s *State) Redo() (*Redone, error) {
	e := &Redone{Seq: s.CanRedo}
	return e, s.Check(e)
}

// With is the state as it would be with one more event logged now, or why it cannot be logged.
func (s *State) With(e Event) (*State, error) {
	if err := s.Check(e); err != nil {
		return nil, err
	}
	kind, payload := Encode(e)
	return Fold(append(slices.Clip(s.Records), Record{Seq: s.LastSeq + 1, Kind: kind, At: s.LastAt, Payload: payload}))
}
