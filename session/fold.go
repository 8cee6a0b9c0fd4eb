package session

import (
	"cmp"
	"slices"
)

// The steps that hold form a stack, a step being all that one command logged: an undoing takes the
// top off and lays it on a second stack, a redoing brings it back, and a new step is put on top and
// clears the second stack. Each step keeps the state it was logged on, so that the state after an
// undoing is the one before the step that was undone, and every event is checked against the
// events it was checked against when it was logged.

// Fold reads the log of a piece into its state. The records must be in order of
// their numbers; gaps are allowed. An empty log gives the state of a piece that is
// not cast on. The records must not change afterwards.
//
// Errors: *OrderError, or an *EventError that names the event and wraps a
// *NewerError, a *MalformedError, or why the event does not follow. The time is
// linear in the size of the log, but that each correction of a row takes another 8 bytes a
// finished row.
func Fold(records []Record) (*State, error) {
	f := folding{state: &State{}, entries: make([]Entry, 0, len(records))}
	var last Record
	for _, r := range records {
		if r.Seq <= last.Seq {
			return nil, &OrderError{Seq: r.Seq, After: last.Seq}
		}
		last = r
		e, err := Decode(r.Kind, r.Payload)
		if err == nil {
			f.entries = append(f.entries, r.entry(e))
			err = f.next(len(f.entries) - 1)
		}
		if err != nil {
			return nil, &EventError{Seq: r.Seq, Kind: Kind(r.Kind), Err: err}
		}
	}
	s := f.state
	f.turn()
	s.records, s.entries, s.LastSeq, s.LastAt = records, f.entries, last.Seq, last.At
	for _, done := range f.holds[min(1, len(f.holds)):] {
		s.steps = append(s.steps, f.entries[done.first].Seq)
	}
	return s, nil
}

func (r Record) entry(e Event) Entry {
	if pressed, is := e.(*Pressed); is {
		return Entry{Seq: r.Seq, At: r.At, Event: pressed.Event, Press: pressed.Press}
	}
	return Entry{Seq: r.Seq, At: r.At, Event: e}
}

// folding is a log while it is read.
type folding struct {
	state   *State // as the steps that hold leave it
	entries []Entry
	holds   []loggedStep // the steps that hold, oldest first
	taken   []loggedStep // those undone that can be redone, oldest first
	until   uint64       // number of the last event that belongs to the newest step
}

// loggedStep is the events that one command logged, as indexes into the entries, both ends in. It is
// known by its first.
type loggedStep struct {
	first, last int
	before      *State // which it was logged on
	after       *State // and which it left, of one that was undone
	undoing     int    // the event that undid it
}

// turn tells the state what an undoing and a redoing must name now.
func (f *folding) turn() {
	f.state.CanUndo, f.state.CanRedo = 0, 0
	if last := len(f.holds) - 1; last > 0 { // the first is the cast-on
		f.state.CanUndo = f.entries[f.holds[last].first].Seq
	}
	if last := len(f.taken) - 1; last >= 0 {
		f.state.CanRedo = f.entries[f.taken[last].undoing].Seq
	}
}

// next takes the next event of the log, if it follows from those before it.
func (f *folding) next(i int) error {
	f.turn()
	e := f.entries[i]
	if err := f.state.Check(e.Event); err != nil {
		return err
	}
	switch event := e.Event.(type) {
	case *Undone:
		f.undo(i)
		return nil
	case *Redone:
		f.redo()
		return nil
	case *Together:
		f.begin(i)
		f.until = e.Seq + uint64(event.Events)
	default:
		if e.Seq > f.until {
			f.begin(i)
		}
	}
	f.holds[len(f.holds)-1].last = i
	f.entries[i].met = f.state.metBy(e.Event)
	e.Event.apply(f.state, stamp{seq: e.Seq, at: e.At})
	return nil
}

// begin begins a step, on a state of its own: what an event changes of it is copied before.
func (f *folding) begin(i int) {
	f.holds, f.taken = append(f.holds, loggedStep{first: i, before: f.state}), f.taken[:0]
	now := *f.state
	f.state = &now
}

func (f *folding) undo(i int) {
	last := len(f.holds) - 1
	top := f.holds[last]
	f.mark(top, true)
	top.after, top.undoing = f.state, i
	f.state, f.holds, f.taken, f.until = top.before, f.holds[:last], append(f.taken, top), 0
}

func (f *folding) redo() {
	last := len(f.taken) - 1
	top := f.taken[last]
	f.entries[top.undoing].Canceled = true
	f.mark(top, false)
	f.state, f.holds, f.taken, f.until = top.after, append(f.holds, top), f.taken[:last], 0
}

func (f *folding) mark(s loggedStep, canceled bool) {
	for i := s.first; i <= s.last; i++ {
		f.entries[i].Canceled = canceled
	}
}

// Undo gives the event that cancels the newest event that holds. When only the
// cast-on is left it is a *RefusedError, CastOnStays.
func (s *State) Undo() (*Undone, error) {
	e := &Undone{Seq: s.CanUndo}
	return e, s.Check(e)
}

// UndoLast gives the events that take back the last n things logged, the newest first. With
// fewer than n to take back it is a *RefusedError, TooFewSteps, with only the cast-on left
// CastOnStays.
func (s *State) UndoLast(n int) ([]Event, error) {
	switch {
	case len(s.steps) == 0:
		_, err := s.Undo()
		return nil, err
	case n > len(s.steps):
		return nil, refuse(TooFewSteps, "only %s can be undone; the cast-on stays", plural(len(s.steps), "thing"))
	}
	var events []Event
	for _, seq := range slices.Backward(s.steps[len(s.steps)-n:]) {
		events = append(events, &Undone{Seq: seq})
	}
	return events, nil
}

// Redo gives the event that takes the newest undoing back. When nothing was undone
// since the last change it is a *RefusedError, NothingToRedo.
func (s *State) Redo() (*Redone, error) {
	e := &Redone{Seq: s.CanRedo}
	return e, s.Check(e)
}

// With is the state as it would be with one more event logged now. It reports why
// the event cannot be logged.
func (s *State) With(e Event) (*State, error) {
	if err := s.Check(e); err != nil {
		return nil, err
	}
	kind, payload := Encode(e)
	return Fold(append(s.Records(), Record{Seq: s.LastSeq + 1, Kind: kind, At: s.LastAt, Payload: payload}))
}

// before is the state that the log had left before the event with the given number.
func (s *State) before(seq uint64) *State {
	i, _ := slices.BinarySearchFunc(s.records, seq, func(r Record, seq uint64) int { return cmp.Compare(r.Seq, seq) })
	then, err := Fold(slices.Clip(s.records[:i]))
	if err != nil {
		panic("session: the beginning of a log that was read cannot be: " + err.Error())
	}
	return then
}
