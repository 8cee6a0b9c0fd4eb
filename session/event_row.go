package session

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// RowKnit finishes a row. One that was caught otherwise than shown says what became of which catch, and so
// is an event of another kind; an old log has rows of the first kind that do not say it.
type RowKnit struct {
	Row         int      // from 1; always the row after the last finished one
	Shown       []Mark   // the catches the row sheet showed, in order
	Used        []Mark   // the catches really made, in order; equal to Shown when all went as planned
	Changes     *Changes // how the two differ; nil where they do not, or it was not told
	Unwitnessed bool     // knitted without the program and logged later as planned
}

func (e *RowKnit) newer() bool { return e.Changes != nil }

func (e *RowKnit) validate(s *State) error {
	err := cmp.Or(s.open(), s.checkNext(e.Row), checkMarks("catches shown", e.Shown), checkMarks("catches made", e.Used))
	if err == nil && e.Changes != nil && !slices.Equal(e.Changes.applied(e.Shown), e.Used) {
		return &FieldError{"catches made", "not what the changes leave of those shown", "those the changes leave"}
	}
	return err
}

func (e *RowKnit) apply(s *State, log []Entry) {
	entry := log[len(log)-1]
	s.DoneRows = append(s.DoneRows, &DoneRow{RowKnit: *e, Seq: entry.Seq, At: entry.At, Grip: s.GripAt(e.Row)})
	s.Row, s.Begun, s.OnNeedle = e.Row, 0, nil
}

func (e *RowKnit) fields(w *wire, k Kind) {
	w.int(&e.Row)
	if k == KindRowChanged {
		e.changedFields(w)
		return
	}
	differs := !slices.Equal(e.Shown, e.Used)
	w.flags(&e.Unwitnessed, &differs)
	w.marks(&e.Shown)
	if differs {
		if w.marks(&e.Used); slices.Equal(e.Used, e.Shown) {
			w.fail("the catches are given twice")
		}
	} else if !w.writing {
		e.Used = e.Shown
	}
}

// changedFields are those of a row with changes told: the catches made follow from them.
func (e *RowKnit) changedFields(w *wire) {
	if e.Changes == nil {
		e.Changes = &Changes{}
	}
	w.flags(&e.Unwitnessed)
	w.marks(&e.Shown)
	e.Changes.fields(w)
	switch {
	case w.writing:
	case !e.Changes.Any():
		w.fail("no catch is changed")
	case !e.Changes.fits(e.Shown):
		w.fail("a catch that was changed was not shown, or two are made on one stitch")
	default:
		e.Used = e.Changes.applied(e.Shown)
	}
}

func (e *RowKnit) words(t historyWords) string {
	line := fmt.Sprintf("%s %d knitted", t.row(), e.Row)
	if e.Unwitnessed {
		line += ", logged afterwards"
	}
	changes := e.Changes
	if changes == nil {
		untold := compareLists(e.Shown, e.Used, t.met.SegmentAt(e.Row).Limit)
		changes = &untold
	}
	did := "caught"
	if changes.Any() {
		did = "to catch" // what was made follows
	}
	if catches := t.catches(did, e.Row, e.Shown); catches != "" {
		line += ": " + catches
	}
	if fates := t.fates(e.Row, e.Shown, *changes); fates != "" {
		line += "; " + fates
	}
	return line
}

const longestList = 8

// catches names the catches a row was shown with, by yarn: "fjord caught: a on 6, c on 18; oat caught: b on 9".
func (t historyWords) catches(did string, row int, shown []Mark) string {
	of := map[int][]string{}
	l := letteringOf(shown, t.laid(row, lastStitch(shown)))
	for i, m := range l.first {
		of[m.Yarn] = append(of[m.Yarn], letterAt(i)+" on "+shortPlace(l.in.PlaceOf(m.Stitch)))
	}
	var parts []string
	for _, yarn := range slices.Sorted(maps.Keys(of)) {
		parts = append(parts, t.yarn(yarn)+" "+did+": "+shortened(of[yarn]))
	}
	return strings.Join(parts, "; ")
}

func (t historyWords) fates(row int, shown []Mark, c Changes) string {
	return shortened(letteringOf(shown, t.laid(row, lastStitch(shown, c.come()))).fates(c, t.yarn))
}

// shortened joins words, the last ones counted where there are many.
func shortened(list []string) string {
	if more := len(list) - longestList; more > 0 {
		return strings.Join(list[:longestList], ", ") + fmt.Sprintf(" and %d more", more)
	}
	return strings.Join(list, ", ")
}
