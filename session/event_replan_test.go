package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// long is the band with a taller end.
func long() []PartRef {
	parts := band().Parts
	parts[1].Rows = 40
	return parts
}

func TestReplannedState(t *testing.T) {
	l := castOn(t, 4)
	l.add(&Replanned{Limit: 5, Gauge: "20/4in"})
	l.knit(3)
	l.add(&Replanned{Parts: long()})
	s := l.state
	assert.Equal(t, []Segment{
		{From: 1, Parts: band().Parts, Limit: 6, Gauge: "24/4in"},
		{From: 5, Parts: band().Parts, Limit: 5, Gauge: "20/4in"},
		{From: 8, Parts: long(), Limit: 5, Gauge: "20/4in"},
	}, s.Segments)
	for row, limit := range map[int]int{1: 6, 4: 6, 5: 5, 60: 5} {
		assert.Equal(t, limit, s.SegmentAt(row).Limit, row)
	}
	assert.Equal(t, 60, s.Total())
	assert.Equal(t, 5, s.Setup.Limit)
	assert.Equal(t, "planned anew: at most 5 stitches uncaught; gauge 20/4in", l.words(6))
	assert.Equal(t, "planned anew: parts lights, plain", l.words(10))
}

func TestReplannedHoldsForRowsRippedBack(t *testing.T) {
	l := castOn(t, 4)
	l.add(&Replanned{Limit: 5})
	l.knit(3)
	l.add(&Replanned{Limit: 4})
	l.add(&Ripped{Rows: 2}) // to row 5
	assert.Equal(t, []int{1, 5, 6}, froms(l.state))
	l.add(&Ripped{Rows: 2}) // to row 3: the plan from row 5 never came to be worked
	assert.Equal(t, []int{1, 4}, froms(l.state))
	assert.Equal(t, 4, l.state.SegmentAt(4).Limit)
	assert.Equal(t, 6, l.state.SegmentAt(3).Limit)
	l.add(&Replanned{Limit: 3})
	assert.Equal(t, []int{1, 4}, froms(l.state))
	assert.Equal(t, 3, l.state.SegmentAt(4).Limit)
	l.undo()
	l.undo()
	assert.Equal(t, []int{1, 5, 6}, froms(l.state), "undoing the rip brings the plans back")
}

func froms(s *State) []int {
	var rows []int
	for _, seg := range s.Segments {
		rows = append(rows, seg.From)
	}
	return rows
}

func TestReplannedRefused(t *testing.T) {
	s := castOn(t, 20).state
	short := band().Parts[:1]
	short[0].Times = 1
	runRefused(t, []refused{
		{"too short", s, &Replanned{Parts: short}, &RefusedError{What: "the new parts have 10 rounds, but 20 are worked; give parts for the whole piece, the worked rounds included"}},
		{"bound off", newLog(t, band(), &BoundOff{}).state, &Replanned{Limit: 3}, &RefusedError{What: "the piece is bound off after round 0; undo the bind-off to go on"}},
	})
	runBadFields(t, s, []badField{
		{"new plan", &Replanned{}},
		{"limit", &Replanned{Limit: -1}},
		{"gauge", &Replanned{Gauge: " 24"}},
		{"part name", &Replanned{Parts: []PartRef{{}}}},
	})
}
