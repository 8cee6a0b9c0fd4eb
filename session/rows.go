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

// DoneRow gives a finished row, from 1 to State.Row; another number panics. Its
// catches are unpacked anew at every call.
func (s *State) DoneRow(row int) DoneRow {
	var arena []Mark
	return s.doneRow(row, &arena)
}

// DoneRows gives all finished rows as they are in the fabric; the first is row 1.
func (s *State) DoneRows() []DoneRow {
	size := 0
	for _, ref := range s.rows {
		size += len(s.records[ref.index].Payload)
	}
	rows, arena := make([]DoneRow, len(s.rows)), make([]Mark, 0, size)
	for i := range rows {
		rows[i] = s.doneRow(i+1, &arena)
	}
	return rows
}

func (s *State) doneRow(row int, arena *[]Mark) DoneRow {
	ref := s.rows[row-1]
	record := &s.records[ref.index]
	e, r := RowKnit{}, reader{b: record.Payload}
	e.read(&r, arena)
	return DoneRow{
		Row: e.Row, Seq: record.Seq, At: record.At, Shown: e.Shown, Used: e.Used,
		Unwitnessed: e.Unwitnessed, Grip: int(ref.grip),
	}
}
