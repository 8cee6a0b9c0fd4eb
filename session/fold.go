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
// not cast on.
//
// The state takes the records over, their payloads too, and reads them when it is
// asked for rows or the log: they must not change afterwards, nor go away as the
// memory of a closed store would. In return nothing is copied; a row's catches, by
// far the most of a log, are unpacked when they are wanted.
//
// A first pass reads every event, the cancelled ones too, and finds which hold; a
// second applies those in order, each checked against the events before it.
// Errors: *OrderError, or an *EventError that names the event and wraps a
// *NewerError, a *MalformedError, or why the event does not follow. The time is
// linear in the size of the log.
func Fold(records []Record) (*State, error) {
	s := &State{records: records, cancelled: make([]bool, len(records), cap(records))}
	holds, err := s.cancel()
	if err != nil {
		return nil, err
	}
	s.rows = make([]rowRef, 0, len(holds))
	for _, i := range holds {
		if err := s.follow(i); err != nil {
			return nil, s.fault(i, err)
		}
	}
	return s, nil
}

// fault says which event an error is about.
func (s *State) fault(i int, err error) error {
	return &EventError{Seq: s.records[i].Seq, Kind: Kind(s.records[i].Kind), Err: err}
}

// cancel checks that every event of the log can be read, marks the cancelled ones,
// fills in what can be undone and redone, and returns the indexes of those that
// hold.
func (s *State) cancel() ([]int, error) {
	c := cancelling{state: s, holds: make([]int, 0, len(s.records))}
	for i, r := range s.records {
		if r.Seq <= s.LastSeq {
			return nil, &OrderError{Seq: r.Seq, After: s.LastSeq}
		}
		s.LastSeq, s.LastAt = r.Seq, r.At
		if err := c.next(i); err != nil {
			return nil, s.fault(i, err)
		}
	}
	s.CanUndo, s.CanRedo = c.canUndo(), c.canRedo()
	return c.holds, nil
}

// follow applies the event at index i if it follows from those before it. The
// event was read before, so a row's catches are known to be in order.
func (s *State) follow(i int) error {
	r := &s.records[i]
	at := stamp{index: i, seq: r.Seq, at: r.At}
	if r.Kind == uint16(KindRowKnit) {
		row := rowHead(r.Payload)
		if err := row.follows(s); err != nil {
			return err
		}
		row.apply(s, at)
		return nil
	}
	e, err := Decode(r.Kind, r.Payload)
	if err != nil {
		return err
	}
	if err := e.validate(s); err != nil {
		return err
	}
	e.apply(s, at)
	return nil
}
