package session

import (
	"fmt"
	"slices"
	"strings"
)

// RowKnit finishes a row.
type RowKnit struct {
	Row         int    // from 1; always the row after the last finished one
	Shown       []Mark // the catches the row sheet showed, in order
	Used        []Mark // the catches really made, in order; equal to Shown when all went as planned
	Unwitnessed bool   // knitted without the program and logged later as planned
}

// Kind says which event it is.
func (e *RowKnit) Kind() Kind { return KindRowKnit }

func (e *RowKnit) validate(s *State) error {
	if err := s.open(); err != nil {
		return err
	}
	if err := s.checkNext(e.Row); err != nil {
		return err
	}
	if err := checkMarks("catches shown", e.Shown); err != nil || e.asShown() {
		return err
	}
	return checkMarks("catches made", e.Used)
}

// asShown reports whether Used is the very list Shown, as it is after reading.
func (e *RowKnit) asShown() bool {
	return len(e.Used) == len(e.Shown) && (len(e.Used) == 0 || &e.Used[0] == &e.Shown[0])
}

// checkNext reports why row is not the row to work.
func (s *State) checkNext(row int) error {
	total := s.Total()
	switch {
	case row < 1:
		return checkRange("row", row, 1)
	case row <= s.Row && s.Row == total:
		return &AlreadyRecordedError{Row: row}
	case row <= s.Row:
		return &AlreadyRecordedError{Row: row, Next: s.Row + 1}
	case s.Row == total:
		return &FinishedError{Rows: total}
	case row > s.Row+1:
		return &NotYetError{Row: row, Next: s.Row + 1}
	}
	return nil
}

func (e *RowKnit) apply(s *State, at stamp) {
	s.Row, s.Begun = e.Row, 0
	s.Rows = append(s.Rows, DoneRow{
		Row: e.Row, Seq: at.seq, At: at.at, Shown: e.Shown, Used: e.Used,
		Unwitnessed: e.Unwitnessed, Grip: len(s.Grips) - 1,
	})
}

func (e *RowKnit) encode(b []byte) []byte {
	same := slices.Equal(e.Shown, e.Used)
	b = appendFlags(appendInt(b, e.Row), e.Unwitnessed, !same)
	b = appendMarks(b, e.Shown)
	if !same {
		b = appendMarks(b, e.Used)
	}
	return b
}

func decodeRowKnit(r *reader) Event {
	e, arena := &RowKnit{}, make([]Mark, 0, len(r.b))
	e.read(r, &arena)
	return e
}

// read takes the event from its bytes, its marks from the arena.
func (e *RowKnit) read(r *reader, arena *[]Mark) {
	e.Row = r.int()
	flags := r.flags(2)
	e.Unwitnessed = flags&1 != 0
	e.Shown = r.marks(arena)
	e.Used = e.Shown
	if flags&2 == 0 {
		return
	}
	e.Used = r.marks(arena)
	if slices.Equal(e.Shown, e.Used) {
		r.fail("the catches are given twice")
	}
}

func (e *RowKnit) words(t teller) string {
	line := fmt.Sprintf("%s %d knitted", t.row(), e.Row)
	if e.Unwitnessed {
		line += ", logged afterwards"
	}
	if caught := t.caught(e.Used); caught != "" {
		line += ": " + caught
	}
	limit := t.state.SegmentAt(e.Row).Limit
	if changes := Compare(e.Shown, e.Used, limit).String(); changes != "" {
		line += "; " + changes
	}
	return line
}

// longestList is how many catches of a yarn a line of the history names.
const longestList = 8

// caught lists the catches yarn by yarn: "fjord caught on 6, 18, oat on 9".
func (t teller) caught(marks []Mark) string {
	var order []int
	of := map[int][]string{}
	for _, m := range marks {
		if of[m.Yarn] == nil {
			order = append(order, m.Yarn)
		}
		of[m.Yarn] = append(of[m.Yarn], fmt.Sprint(m.Stitch))
	}
	slices.Sort(order)
	var parts []string
	for i, yarn := range order {
		verb := " on "
		if i == 0 {
			verb = " caught on "
		}
		parts = append(parts, t.yarn(yarn)+verb+shortened(of[yarn]))
	}
	return strings.Join(parts, ", ")
}

func shortened(list []string) string {
	if more := len(list) - longestList; more > 0 {
		return strings.Join(list[:longestList], ", ") + fmt.Sprintf(" and %d more", more)
	}
	return strings.Join(list, ", ")
}
