package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/chart"
	"strandwise/floats"
)

// second begins the second of a pair; mirrored turns its charts.
func second(t require.TestingT, first *worked, mirrored bool) *Piece {
	e := first.state.Setup
	e.Name, e.CopyOf, e.FirstName, e.Mirrored = "the other", 1, first.state.Setup.Name, mirrored
	w := &worked{testLog: newLog(t, &e), plan: first.plan, charts: func(hash [32]byte) (*chart.Chart, error) {
		c, err := first.charts(hash)
		if err == nil && mirrored {
			c = c.Mirror()
		}
		return c, err
	}}
	w.lay()
	return w.piece
}

func TestSecondFollowsTheFirst(t *testing.T) {
	w := begin(t, "x.........x.........\nx.........x.........", nil)
	w.row(func([]Mark) []Mark { return []Mark{{15, 1}} })
	planned := w.piece.Schedule.Row(1)
	require.NotEqual(t, []Mark{{15, 1}}, planned)
	p := second(t, w, false)
	require.Equal(t, planned, p.Schedule.Row(1))
	upper := p.Schedule.Row(2)
	p.FollowFirst(w.piece)
	assert.Equal(t, []Mark{{15, 1}}, p.Schedule.Row(1))
	assert.Equal(t, upper, p.Schedule.Row(2), "not knitted yet")
	assert.False(t, p.Sheet(1).Blocks[0].Often.Catches[0].Moved, "it is the plan now")
}

func TestSecondDoesNotFollowAMissedCatch(t *testing.T) {
	w := begin(t, "x.........x.........\nx.........x.........", nil)
	planned := w.piece.Schedule.Row(1)
	w.row(none)
	p := second(t, w, false)
	p.FollowFirst(w.piece)
	assert.Equal(t, planned, p.Schedule.Row(1))
}

// Turned left to right, the fourth of nine stitches is the sixth; a twist before the
// fourth comes before the seventh (arithmetic).
func TestSecondTurned(t *testing.T) {
	assert.Equal(t, 6, turnedStitch(4, 9, floats.Weave))
	assert.Equal(t, 7, turnedStitch(4, 9, floats.Twist))
	w := begin(t, "x........x", func(e *CastOn) { e.Flat = true })
	w.row(func([]Mark) []Mark { return []Mark{{4, 1}} })
	p := second(t, w, true)
	p.FollowFirst(w.piece)
	assert.Equal(t, []Mark{{7, 1}}, p.Schedule.Row(1))
}

// Whatever the first was, the second's plan leaves no gap over the limit, and its
// catches are where yarns are carried.
func TestSecondHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		row := rapid.StringOfN(rapid.RuneFrom([]rune("...........x")), 12, 12, -1)
		rows := row.Draw(t, "row") + "\n" + row.Draw(t, "row") + "\n" + row.Draw(t, "row")
		flat, twist := rapid.Bool().Draw(t, "flat"), rapid.Bool().Draw(t, "twist")
		w := begin(t, rows, func(e *CastOn) {
			e.Flat, e.Parts[0].Repeats = flat, rapid.IntRange(1, 2).Draw(t, "repeats")
			if twist {
				e.Hold, e.Method = "one-at-a-time", "twist"
			}
		})
		for range w.piece.Rows() {
			w.row(func(shown []Mark) []Mark {
				if len(shown) > 0 && rapid.Bool().Draw(t, "missed") {
					shown = shown[1:]
				}
				d := w.piece.deviating(w.state.Row + 1)
				at := rapid.IntRange(1, w.piece.Row(w.state.Row+1).Stitches()).Draw(t, "extra")
				for i := range shown {
					if d.under(1, at) >= 0 && at != shown[i].Stitch && i == 0 && len(shown) == 1 {
						shown[0].Stitch = at
					}
				}
				return shown
			})
		}
		p := second(t, w, rapid.Bool().Draw(t, "mirrored"))
		kept := *p
		kept.Schedule, _ = ReadSchedule(p.Schedule.Bytes())
		p.FollowFirst(w.piece)
		kept.FollowFirst(w.piece)
		for row := 1; row <= p.Rows(); row++ {
			require.Equal(t, p.Schedule.Row(row), kept.Schedule.Row(row), "the plan made anew and the one that was kept")
		}
		for _, s := range p.Strands(p.Rows(), p.Schedule.Row) {
			for _, g := range s.Gaps {
				require.LessOrEqual(t, g.Over(), 0)
			}
		}
		for row := 1; row <= p.Rows(); row++ {
			require.NoError(t, checkMarks("plan", p.Schedule.Row(row)))
		}
	})
}

// The first has a float of 4 + 4 over the start of round 3, caught on the last stitch of
// round 2. Turned, that is the first stitch of a float of 0 + 4 over the start of round 2:
// within the limit of 5, so never caught (arithmetic; common practice).
func TestSecondTurnedHasNoNeedlessCatch(t *testing.T) {
	w := begin(t, "x...x..x....\n....x..x....\nx.....x....x", nil)
	w.row(none)
	w.row(func([]Mark) []Mark { return []Mark{{12, 1}} })
	w.row(none)
	require.Empty(t, w.piece.Review(nil).Mending, "the first is sound")
	p := second(t, w, true)
	p.FollowFirst(w.piece)
	for row := 1; row <= p.Rows(); row++ {
		assert.Empty(t, p.Schedule.Row(row), "row %d", row)
	}
}
