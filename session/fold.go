package session

import "time"

// Record is an event as a log keeps it.
type Record struct {
	Seq     uint64 // its number in the log of the piece, from 1
	Kind    uint16
	At      time.Time // for display only
	Payload []byte
}

// Fold reads the log of a piece into its state. The records must be in order of
// their numbers; gaps are allowed. An empty log gives the state of a piece that is
// not cast on. It keeps no part of the payloads.
//
// A first pass reads every event, the cancelled ones too, and finds which hold; a
// second applies those in order, each checked against the events before it.
// Errors: *OrderError, or an *EventError that names the event and wraps a
// *NewerError, a *MalformedError, or why the event does not follow. The time is
// linear in the size of the log.
func Fold(records []Record) (*State, error) {
	log, err := readLog(records)
	if err != nil {
		return nil, err
	}
	s := &State{Log: log}
	holds, err := s.cancel()
	if err != nil {
		return nil, err
	}
	s.Rows = make([]DoneRow, 0, len(holds))
	for _, i := range holds {
		e := &log[i]
		if err := e.Event.validate(s); err != nil {
			return nil, &EventError{Seq: e.Seq, Kind: e.Event.Kind(), Err: err}
		}
		e.Event.apply(s, stamp{e.Seq, e.At})
	}
	return s, nil
}

// cancel marks the cancelled events of the log, fills in what can be undone and
// redone, and returns the indexes of the events that hold.
func (s *State) cancel() ([]int, error) {
	c := cancelling{holds: make([]int, 0, len(s.Log))}
	for i := range s.Log {
		e := &s.Log[i]
		if err := c.check(s.Log, i); err != nil {
			return nil, &EventError{Seq: e.Seq, Kind: e.Event.Kind(), Err: err}
		}
		c.next(s.Log, i)
		s.LastSeq, s.LastAt = e.Seq, e.At
	}
	s.CanUndo, s.CanRedo = c.canUndo(s.Log), c.canRedo(s.Log)
	return c.holds, nil
}

// check reports why the event at index i cannot steer those before it.
func (c *cancelling) check(log []Entry, i int) error {
	if !log[i].Event.Kind().steers() {
		return nil
	}
	seen := &State{}
	if len(c.holds) > 0 {
		if first, ok := log[c.holds[0]].Event.(*CastOn); ok {
			first.apply(seen, stamp{})
		}
	}
	seen.CanUndo, seen.CanRedo = c.canUndo(log), c.canRedo(log)
	return log[i].Event.validate(seen)
}
