package session

import (
	"bytes"
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
	return firstError(e.follows(s), checkMarks("catches shown", e.Shown), checkMarks("catches made", e.Used))
}

// follows is validate without the marks. Marks that were read are in order as it is.
func (e *RowKnit) follows(s *State) error {
	if err := s.open(); err != nil {
		return err
	}
	return s.checkNext(e.Row)
}

// checkNext reports why row is not the row to work.
func (s *State) checkNext(row int) error {
	total := s.Total()
	switch {
	case row < 1:
		return checkRange(s.rowWord(), row, 1)
	case row <= s.Row && s.Row == total:
		return &AlreadyRecordedError{Row: row, Round: s.round()}
	case row <= s.Row:
		return &AlreadyRecordedError{Row: row, Next: s.Row + 1, Round: s.round()}
	case s.Row == total:
		return &FinishedError{Rows: total, Round: s.round()}
	case row > s.Row+1:
		return &NotYetError{Row: row, Next: s.Row + 1, Round: s.round()}
	}
	return nil
}

func (e *RowKnit) apply(s *State, at stamp) {
	s.Row, s.Begun = e.Row, 0
	s.rows = append(s.rows, rowRef{index: int32(at.index), grip: int32(len(s.Grips) - 1)})
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

// read takes the event from its bytes. Its marks are put into the arena, which
// never needs to hold more than the bytes are in number; without an arena they are
// only checked.
func (e *RowKnit) read(r *reader, arena *[]Mark) {
	apart := e.readHead(r)
	start := r.at
	e.Shown = r.marks(arena)
	e.Used = e.Shown
	if !apart {
		return
	}
	shown, middle := r.b[start:r.at], r.at
	e.Used = r.marks(arena)
	if bytes.Equal(shown, r.b[middle:r.at]) {
		r.fail("the catches are given twice")
	}
}

// readHead takes all but the marks, and whether those made are given apart.
func (e *RowKnit) readHead(r *reader) (apart bool) {
	e.Row = r.int()
	flags := r.flags(2)
	e.Unwitnessed = flags&1 != 0
	return flags&2 != 0
}

// rowHead reads a row's event without its marks, from bytes that checkRow passed.
func rowHead(payload []byte) RowKnit {
	e, r := RowKnit{}, reader{b: payload}
	e.readHead(&r)
	return e
}

// checkRow reports why the bytes are not those of a row.
func checkRow(payload []byte) error {
	e, r := RowKnit{}, reader{b: payload}
	e.read(&r, nil)
	return r.end(KindRowKnit)
}

func (e *RowKnit) words(t teller) string {
	line := fmt.Sprintf("%s %d knitted", t.row(), e.Row)
	if e.Unwitnessed {
		line += ", logged afterwards"
	}
	if caught := t.caught(e.Used); caught != "" {
		line += ": " + caught
	}
	limit := segmentAt(t.era().segments, e.Row).Limit
	if changes := compareLists(e.Shown, e.Used, limit).String(); changes != "" {
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
