package session

import "slices"

// Extend is the state after one more record, what Fold makes of the log with the
// record at its end, without reading the log again. An undoing or a redoing takes
// away or brings back something earlier: for these the log is folded anew. The
// state given stays as it is; the record's payload is taken over. Errors are those of
// Fold.
func Extend(s *State, r Record) (*State, error) {
	if kind := Kind(r.Kind); kind == KindUndone || kind == KindRedone || !s.begun() {
		return Fold(append(s.Records(), r))
	}
	if r.Seq <= s.LastSeq {
		return nil, &OrderError{Seq: r.Seq, After: s.LastSeq}
	}
	n := s.grown(r)
	i := len(n.records) - 1
	if r.Kind == uint16(KindRowKnit) {
		if err := checkRow(r.Payload); err != nil {
			return nil, n.fault(i, err)
		}
	}
	if err := n.follow(i); err != nil {
		return nil, n.fault(i, err)
	}
	n.LastSeq, n.LastAt = r.Seq, r.At
	n.CanUndo, n.CanRedo = r.Seq, 0
	return n, nil
}

// grown is a copy of the state with a record more in its log. The log itself is by far
// the largest part and is not copied: the copy goes on in the room behind it, and
// only the first copy may, so a second one gets a log of its own.
func (s *State) grown(r Record) *State {
	n := *s
	n.Segments, n.Grips, n.Rips = slices.Clone(s.Segments), slices.Clone(s.Grips), slices.Clone(s.Rips)
	n.Notes, n.Used, n.Balls = slices.Clone(s.Notes), slices.Clone(s.Used), slices.Clone(s.Balls)
	n.rows = append(make([]rowRef, 0, len(s.rows)+1), s.rows...)
	records, cancelled := s.records, s.cancelled
	if s.continued {
		records, cancelled = slices.Clip(records), slices.Clip(cancelled)
	}
	s.continued, n.continued = true, false
	n.records, n.cancelled = append(records, r), append(cancelled, false)
	return &n
}
