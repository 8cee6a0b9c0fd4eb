package session

import (
	"cmp"
	"slices"
)

// Fold reads the log of a piece into its state. The records must be in order of
// their numbers; gaps are allowed. An empty log gives the state of a piece that is
// not cast on. The records must not change afterwards.
//
// A first pass reads every event, the canceled ones too, and finds which hold; a
// second applies those in order, each checked against the events before it.
// Errors: *OrderError, or an *EventError that names the event and wraps a
// *NewerError, a *MalformedError, or why the event does not follow. The time is
// linear in the size of the log.
func Fold(records []Record) (*State, error) {
	s := &State{records: records, entries: make([]Entry, 0, len(records))}
	c := canceling{state: s, holds: make([]step, 0, len(records))}
	for _, r := range records {
		if err := s.read(r); err != nil {
			return nil, err
		}
		if err := c.next(len(s.entries) - 1); err != nil {
			return nil, s.fault(len(s.entries)-1, err)
		}
	}
	s.CanUndo, s.CanRedo, s.steps = c.canUndo(), c.canRedo(), c.steps()
	for _, done := range c.holds {
		for i := done.first; i <= done.last; i++ {
			if err := s.follow(i); err != nil {
				return nil, s.fault(i, err)
			}
		}
	}
	return s, nil
}

// read takes the next record of the log.
func (s *State) read(r Record) error {
	if r.Seq <= s.LastSeq {
		return &OrderError{Seq: r.Seq, After: s.LastSeq}
	}
	e, err := Decode(r.Kind, r.Payload)
	if err != nil {
		return &EventError{Seq: r.Seq, Kind: Kind(r.Kind), Err: err}
	}
	s.entries = append(s.entries, Entry{Seq: r.Seq, At: r.At, Event: e})
	s.LastSeq, s.LastAt = r.Seq, r.At
	return nil
}

// follow applies the event at index i if it follows from those before it.
func (s *State) follow(i int) error {
	e := &s.entries[i]
	if err := s.Check(e.Event); err != nil {
		return err
	}
	e.Event.apply(s, stamp{seq: e.Seq, at: e.At})
	return nil
}

// fault says which event an error is about.
func (s *State) fault(i int, err error) error {
	e := &s.entries[i]
	return &EventError{Seq: e.Seq, Kind: e.Event.kind(), Err: err}
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
