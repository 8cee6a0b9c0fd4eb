package session

import "time"

// DoneRow is a finished row.
type DoneRow struct {
	Row         int // from 1
	Seq         uint64
	At          time.Time // when it was logged, for display and pace only
	Shown, Used []Mark    // catches shown and made, in order; the same slice when all went as planned
	Unwitnessed bool
	Grip        int // index into State.Grips of how it was worked
}

// rowRef says where a finished row stands in the log.
type rowRef struct{ index, grip int32 }

// finished gives the record of a finished row and the index of its grip.
func (s *State) finished(row int) (r Record, grip int) {
	if row <= s.kept.n {
		return s.kept.row(row)
	}
	ref := s.rows[row-s.kept.n-1]
	return s.records[ref.index], int(ref.grip)
}

// gripOf gives the index of the grip of a finished row.
func (s *State) gripOf(row int) int {
	if row <= s.kept.n {
		return s.kept.grip(row)
	}
	return int(s.rows[row-s.kept.n-1].grip)
}

// witnessed reports whether a finished row was knitted with the program at hand. Its
// catches are not unpacked: there may be hundreds of rows to ask.
func (s *State) witnessed(row int) bool {
	r, _ := s.finished(row)
	return !rowHead(r.Payload).Unwitnessed
}

// unravel takes the finished rows above row out.
func (s *State) unravel(row int) {
	s.kept.n = min(s.kept.n, row)
	s.rows = s.rows[:row-s.kept.n]
}

// DoneRow gives a finished row, from 1 to State.Row; another number panics. Its
// catches are unpacked anew at every call.
func (s *State) DoneRow(row int) DoneRow {
	var arena []Mark
	return s.doneRow(row, &arena)
}

// DoneRows gives all finished rows as they are in the fabric; the first is row 1.
func (s *State) DoneRows() []DoneRow {
	size := len(s.kept.table.b)
	for _, ref := range s.rows {
		size += len(s.records[ref.index].Payload)
	}
	rows, arena := make([]DoneRow, s.Row), make([]Mark, 0, size)
	for i := range rows {
		rows[i] = s.doneRow(i+1, &arena)
	}
	return rows
}

func (s *State) doneRow(row int, arena *[]Mark) DoneRow {
	record, grip := s.finished(row)
	e, r := RowKnit{}, reader{b: record.Payload}
	e.read(&r, arena)
	return DoneRow{
		Row: e.Row, Seq: record.Seq, At: record.At, Shown: e.Shown, Used: e.Used,
		Unwitnessed: e.Unwitnessed, Grip: grip,
	}
}
