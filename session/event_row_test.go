package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRowKnitState(t *testing.T) {
	shown, used := []Mark{{6, 1}, {18, 1}}, []Mark{{6, 1}, {19, 1}}
	l := newLog(t, band(), &Paused{Stitch: 5})
	l.add(&RowKnit{Row: 1, Shown: shown, Used: used})
	s := l.state
	assert.Equal(t, 1, s.Row)
	assert.Zero(t, s.Begun, "a finished row is not begun")
	want := DoneRow{RowKnit{Row: 1, Shown: shown, Used: used}, 3, l.records[2].At, band().Grip}
	assert.Equal(t, want, s.DoneRow(1))
	assert.Equal(t, []*DoneRow{&want}, s.DoneRows)
}

func TestRowKnitRefusesAnotherRow(t *testing.T) {
	none, some, all := castOn(t, 0).state, castOn(t, 5).state, castOn(t, 24).state
	bound := newLog(t, band(), &BoundOff{}).state
	runRefused(t, []refused{
		{"recorded", some, &RowKnit{Row: 5}, &RefusedError{What: "round 5 is already logged; the round to work is 6"}},
		{"long recorded", some, &RowKnit{Row: 1}, &RefusedError{What: "round 1 is already logged; the round to work is 6"}},
		{"not yet", some, &RowKnit{Row: 7}, &RefusedError{What: "round 7 is not next; the round to work is 6", Row: 7, Next: 6}},
		{"not yet, before row 1", none, &RowKnit{Row: 2}, &RefusedError{What: "round 2 is not next; the round to work is 1", Row: 2, Next: 1}},
		{"past the end", some, &RowKnit{Row: 25}, &RefusedError{What: "round 25 is not next; the round to work is 6", Row: 25, Next: 6}},
		{"finished", all, &RowKnit{Row: 25}, &RefusedError{What: "all 24 rounds are worked; bind off, or rip back to work some again"}},
		{"recorded and finished", all, &RowKnit{Row: 24}, &RefusedError{What: "round 24 is already logged; all rounds are, so bind off or rip back"}},
		{"bound off", bound, &RowKnit{Row: 1}, &RefusedError{What: "the piece is bound off after round 0; undo the bind-off to go on"}},
	})
	runBadFields(t, some, []badField{{"round", &RowKnit{}}, {"round", &RowKnit{Row: -3}}})
}

func TestRowKnitRefusesBadMarks(t *testing.T) {
	s := castOn(t, 0).state
	ok := []Mark{{3, 1}}
	runBadFields(t, s, []badField{
		{"catches shown", &RowKnit{Row: 1, Shown: []Mark{{0, 1}}}},
		{"catches shown", &RowKnit{Row: 1, Shown: []Mark{{3, -1}}}},
		{"catches shown", &RowKnit{Row: 1, Shown: []Mark{{3, 4096}}}},
		{"catches shown", &RowKnit{Row: 1, Shown: []Mark{{5, 0}, {3, 0}}}},
		{"catches shown", &RowKnit{Row: 1, Shown: []Mark{{5, 0}, {5, 0}}}},
		{"catches made", &RowKnit{Row: 1, Shown: ok, Used: []Mark{{5, 1}, {5, 0}}}},
	})
	assert.NoError(t, s.Check(&RowKnit{Row: 1, Used: []Mark{{5, 0}, {5, 1}}}), "two yarns on one stitch")
}

func TestRowKnitKeepsTheGripOfItsTime(t *testing.T) {
	l := castOn(t, 2)
	l.add(&HoldChanged{Grip{Method: "twist"}})
	l.knit(1)
	assert.Equal(t, "weave", l.state.GripAt(2).Method)
	assert.Equal(t, "twist", l.state.GripAt(3).Method)
	assert.Equal(t, "twist", l.state.GripAt(4).Method)
}

func TestRowKnitWords(t *testing.T) {
	long := []Mark{}
	for i := 1; i <= 10; i++ {
		long = append(long, Mark{Stitch: 6 * i, Yarn: 2})
	}
	cases := []struct {
		want string
		row  RowKnit
	}{
		{"round 1 knitted", RowKnit{}},
		{"round 1 knitted, logged afterwards", RowKnit{Unwitnessed: true}},
		{
			"round 1 knitted: fjord to catch: a on 6, b on 18; catch b 1 stitch later",
			RowKnit{Shown: []Mark{{6, 1}, {18, 1}}, Used: []Mark{{6, 1}, {19, 1}}},
		},
		{
			"round 1 knitted: fjord to catch: a on 6; catch a missed, extra catch of yarn 8 on stitch 3, extra catch of oat on stitch 9",
			RowKnit{Shown: []Mark{{6, 1}}, Used: []Mark{{3, 7}, {9, 0}}},
		},
		{"round 1 knitted: fjord to catch: a on 6; catch a missed", RowKnit{Shown: []Mark{{6, 1}}}},
		{"round 1 knitted: night tide caught: a on 6, b on 12, c on 18, d on 24, e on 30, f on 36, g on 42, h on 48 and 2 more", RowKnit{Shown: long, Used: long}},
	}
	for _, c := range cases {
		row := c.row
		row.Row = 1
		assert.Equal(t, c.want, newLog(t, band(), &row).words(2))
	}
	flat := changedBand(func(e *CastOn) { e.Flat = true })
	assert.Equal(t, "row 1 knitted", newLog(t, flat, &RowKnit{Row: 1}).words(2))
}
