package session

import "slices"

// Extend is the state after one more record, what Fold makes of the log with the
// record at its end, without reading the log again. An undoing or a redoing takes
// away or brings back something earlier: for these the log is folded anew. The
// state given stays as it is; the record's payload is taken over. Errors are those of
// Fold.
func Extend(s *State, r Record) (*State, error) {
	if reachesBack(r.Kind) || !s.begun() {
		return Fold(append(s.Records(), r))
	}
	n := s.copied()
	if err := n.take(r); err != nil {
		return nil, err
	}
	return n, nil
}

// take adds a record to the state, one that does not reach back.
func (s *State) take(r Record) error {
	if r.Seq <= s.LastSeq {
		return &OrderError{Seq: r.Seq, After: s.LastSeq}
	}
	i := len(s.records)
	s.records, s.cancelled = append(s.records, r), append(s.cancelled, false)
	if r.Kind == uint16(KindRowKnit) {
		if err := checkRow(r.Payload); err != nil {
			return s.fault(i, err)
		}
	}
	if err := s.follow(i); err != nil {
		return s.fault(i, err)
	}
	s.LastSeq, s.LastAt = r.Seq, r.At
	s.CanUndo, s.CanRedo = r.Seq, 0
	return nil
}

// copied is a copy of the state that can be added to. The log is by far the largest
// part and is not copied: the copy goes on in the room behind it, and only the first
// copy may, so a second one gets a log of its own.
func (s *State) copied() *State {
	n := *s
	n.Segments, n.Grips, n.Rips = slices.Clone(s.Segments), slices.Clone(s.Grips), slices.Clone(s.Rips)
	n.Notes, n.Used, n.Balls = slices.Clone(s.Notes), slices.Clone(s.Used), slices.Clone(s.Balls)
	n.rows = append(make([]rowRef, 0, len(s.rows)+1), s.rows...)
	if s.continued {
		n.records, n.cancelled = slices.Clip(s.records), slices.Clip(s.cancelled)
	}
	s.continued, n.continued = true, false
	return &n
}
