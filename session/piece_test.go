package session

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/floats"
)

// drawPlan gives a plan and how many rows its piece has.
func drawPlan(t *rapid.T) (*floats.Plan, int) {
	rows := rapid.IntRange(1, 9).Draw(t, "rows")
	p := &floats.Plan{
		Limit: rapid.IntRange(1, 9).Draw(t, "limit"), Score: rapid.IntRange(0, 900).Draw(t, "score"),
		Method: rapid.SampledFrom([]floats.Method{floats.Weave, floats.Twist}).Draw(t, "method"),
	}
	p.Bound = rapid.IntRange(0, p.Score).Draw(t, "bound")
	for row := range rows {
		p.Catches = append(p.Catches, asCatches(row, drawMarks(t, "marks"))...)
	}
	return p, rows
}

// A schedule is the same after it was kept, and kept again it has the same bytes.
func TestScheduleIsKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plan, rows := drawPlan(t)
		want := NewSchedule(plan, rows)
		b := want.Bytes()
		got, ok := ReadSchedule(b)
		require.True(t, ok)
		require.Equal(t, []any{want.Limit, want.Method, want.Score, want.Bound, want.Proven()}, []any{got.Limit, got.Method, got.Score, got.Bound, got.Proven()})
		require.Equal(t, rows, got.Rows())
		for row := range rows + 2 { // those beside the piece too
			require.Equal(t, want.Row(row), got.Row(row))
		}
		require.Equal(t, b, got.Bytes())
		for cut := range b {
			_, ok := ReadSchedule(b[:cut])
			require.False(t, ok, cut)
		}
	})
}

func FuzzReadSchedule(f *testing.F) {
	f.Add((&Schedule{Limit: 5, rows: [][]Mark{{{6, 1}}, nil}}).Bytes())
	f.Add([]byte{scheduleVersion, 5, 0, 9, 9, 200})
	f.Add([]byte("\x050\x80000\x00")) // a method beyond a byte, whose lowest eight bits are those of one there is
	f.Fuzz(func(t *testing.T, b []byte) {
		if s, ok := ReadSchedule(b); ok {
			require.Equal(t, b, s.Bytes())
		}
	})
}

// Pieces that differ only in a block, a steek or stitches added have plans of their own.
func TestPlanKeyTellsBlocksApart(t *testing.T) {
	keys := map[[32]byte]string{}
	for name, change := range map[string]func(*PartRef){
		"as it is":      func(*PartRef) {},
		"other repeats": func(p *PartRef) { p.Beside[0].Repeats++ },
		"no edge":       func(p *PartRef) { p.Beside = p.Beside[1:] },
		"wider steek":   func(p *PartRef) { p.Beside[2].Steek++ },
		"alone":         func(p *PartRef) { p.Beside = nil },
		"adds":          func(p *PartRef) { p.Beside, p.Adds = nil, 2 },
	} {
		part := blocks()[1]
		change(&part)
		s := &State{Segments: []Segment{{From: 1, Parts: []PartRef{part}}}}
		other, known := keys[s.PlanKey()]
		assert.False(t, known, "%s and %s have one key", name, other)
		keys[s.PlanKey()] = name
	}
}

// A plan that was kept by an earlier version is found again: cards may have been printed from it.
func TestPlanKeyStays(t *testing.T) {
	s := &State{Segments: []Segment{{From: 1, Parts: []PartRef{blocks()[1]}}}}
	s.Setup.Limit, s.Setup.RestLimit = 5, 6
	assert.Equal(t, "ef0c5893d4dc85a31b69033fb8d7d27843b07035e3c1cfc905f421415e2bbdc9", fmt.Sprintf("%x", s.PlanKey()))
}
