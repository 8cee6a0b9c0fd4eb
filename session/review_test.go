package session

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/chart"
	"strandwise/floats"
)

// planner plans a fabric.
type planner func(*floats.Fabric, floats.Task) *floats.Plan

// worked is a piece with a plan, knitted row by row.
type worked struct {
	*testLog
	piece  *Piece
	charts Charts
	plan   planner
}

// begin casts on one chart given by its rows, top row first.
func begin(t require.TestingT, rows string, change func(*CastOn)) *worked {
	return beginWith(t, rows, change, func(f *floats.Fabric, task floats.Task) *floats.Plan {
		plan, err := floats.MakePlan(context.Background(), f, task)
		require.NoError(t, err)
		return plan
	})
}

// quickPlan is a plan that is allowed; it need not be the best.
func quickPlan(f *floats.Fabric, task floats.Task) *floats.Plan {
	task.Effort = 1
	p, err := floats.MakePlan(context.Background(), f, task)
	if err != nil {
		panic(err)
	}
	return p
}

func beginWith(t require.TestingT, rows string, change func(*CastOn), plan planner) *worked {
	text := "yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nyarn: k kelp #7E9455\nempty: _\nrows:\n" + rows + "\n"
	c, err := chart.Parse("drawn.chart", []byte(text))
	require.NoError(t, err)
	e := &CastOn{
		Name: "pier cowl", Parts: []PartRef{{Name: "drawn", Repeats: 1, Times: 1, Rows: c.Height(), Hash: [32]byte{7}}},
		Gauge: "20x24/10cm", Limit: 5, RestLimit: 6,
		Grip: Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: DominantPattern},
	}
	if change != nil {
		change(e)
	}
	w := &worked{testLog: newLog(t, e), charts: func([32]byte) (*chart.Chart, error) { return c, nil }, plan: plan}
	w.lay()
	return w
}

// lay lays the piece out as its log stands.
func (w *worked) lay() {
	layout, err := w.state.Lay(w.charts)
	require.NoError(w.t, err)
	plan := w.plan(layout.Fabric, w.state.Task())
	w.piece = &Piece{State: w.state, Layout: layout, Schedule: NewSchedule(plan, len(layout.Fabric.Rows))}
}

// row knits the next row, its catches as shown but for what change makes of them.
func (w *worked) row(change func([]Mark) []Mark) {
	shown := slices.Clone(w.piece.Shown(w.state.Row + 1))
	e := &RowKnit{Row: w.state.Row + 1, Shown: shown, Used: shown}
	if change != nil {
		e.Used = change(slices.Clone(shown))
	}
	w.add(e)
	w.piece.State = w.state
}

func none([]Mark) []Mark { return nil }

func TestReviewOfNothing(t *testing.T) {
	r := begin(t, "x.........\nx.........", nil).piece.Review(nil)
	assert.Zero(t, r.Row)
	assert.Empty(t, r.Mending)
	assert.Len(t, r.ByYarn, 3)
	assert.Nil(t, r.ByYarn[1].Longest)
	assert.Nil(t, r.Pair)
}

func TestReviewOverTheStart(t *testing.T) {
	w := begin(t, "...xx.......\n.......xx...", func(e *CastOn) { e.Limit = 6 })
	w.row(none)
	assert.Empty(t, w.piece.Review(nil).Mending)
	w.row(none)
	mends := w.piece.Review(nil).Mending
	require.Len(t, mends, 1)
	assert.Equal(t, "round 1, stitch 6 to round 2, stitch 7: fjord runs 14 stitches uncaught, tack it down behind "+
		"stitch 10 of round 1 and stitch 3 of round 2", mends[0].Text)
}

func TestReviewMeetings(t *testing.T) {
	w := begin(t, "x.........\nx.........\nx.........", func(e *CastOn) { e.Limit = 9 })
	for _, at := range [][]Mark{{{3, 1}, {6, 1}}, {{3, 1}, {8, 1}}, {{4, 1}, {9, 1}, {1, 1}}} {
		slices.SortFunc(at, Mark.Compare)
		w.row(func([]Mark) []Mark { return at })
	}
	r := w.piece.Review(nil)
	meeting := func(row int, upper, below Mark) Meeting {
		return Meeting{row, w.piece.Logged(row, []Mark{upper})[0], w.piece.Logged(row-1, []Mark{below})[0]}
	}
	assert.Equal(t, []Meeting{meeting(2, Mark{3, 1}, Mark{3, 1})}, r.Stacked)
	assert.Equal(t, []Meeting{meeting(3, Mark{4, 1}, Mark{3, 1}), meeting(3, Mark{9, 1}, Mark{8, 1})}, r.Near)
}

func TestReviewOfAPair(t *testing.T) {
	first := begin(t, "x.........\nx.........\nx.........", nil)
	for range 3 {
		first.row(nil)
	}
	second := begin(t, "x.........\nx.........\nx.........", func(e *CastOn) { e.CopyOf, e.FirstName = 1, "pier cowl" })
	second.row(nil)
	second.row(func(m []Mark) []Mark { return append(m, Mark{9, 1}) })
	pair := second.piece.Review(first.piece).Pair
	assert.Equal(t, 2, pair.Rows)
	assert.Equal(t, []int{2}, pair.CatchesDiffer)
	assert.Equal(t, pair.Other.Used+1, pair.This.Used)
	assert.Positive(t, pair.Other.Time)
}

func TestReviewCountsWhatWasUnwitnessedAndRipped(t *testing.T) {
	w := begin(t, "x.........\nx.........\nx.........", nil)
	w.row(nil)
	w.row(nil)
	w.add(&Ripped{Rows: 2})
	shown := w.piece.Schedule.Row(1)
	w.add(&RowKnit{Row: 1, Shown: shown, Used: shown, Unwitnessed: true})
	w.piece.State = w.state
	r := w.piece.Review(nil)
	assert.Equal(t, 2, w.state.Ripped)
	assert.Len(t, r.Rows, 1)
	assert.True(t, r.Rows[0].Unwitnessed)
	assert.Equal(t, len(shown), r.Catches.Unwitnessed)
}

// A row that was ripped back may lie beyond a shorter plan made since.
func TestReviewAfterAShorterPlan(t *testing.T) {
	w := begin(t, "x.........\nx.........\nx.........", nil)
	for range 3 {
		w.row(nil)
	}
	w.add(&Ripped{Rows: 2})
	parts := []PartRef{{Name: "drawn", Repeats: 1, Times: 1, Rows: 3, Hash: [32]byte{7}}}
	w.add(&Replanned{Limit: 3, Parts: parts})
	w.lay()
	w.piece.Layout.Fabric.Rows = w.piece.Layout.Fabric.Rows[:2]
	assert.Equal(t, 20, w.piece.Review(nil).Time.Sittings[0].Stitches)
}

// drawWorked knits a random piece part of the way, each row's catches now and then
// other than shown.
func drawWorked(t *rapid.T) *worked {
	width, height := rapid.IntRange(1, 16).Draw(t, "width"), rapid.IntRange(1, 6).Draw(t, "height")
	symbols := rapid.SampledFrom([]string{".x", ".xk", ".....xk", ".xxxx_"}).Draw(t, "symbols")
	rows := make([]string, height)
	for i := range rows {
		cells := rapid.SliceOfN(rapid.SampledFrom([]rune(symbols)), width, width).Draw(t, "row")
		cells[rapid.IntRange(0, width-1).Draw(t, "stitch")] = '.'
		rows[i] = string(cells)
	}
	w := beginWith(t, strings.Join(rows, "\n"), func(e *CastOn) {
		e.Parts[0].Repeats = rapid.IntRange(1, 3).Draw(t, "repeats")
		e.Parts[0].Times = rapid.IntRange(1, 2).Draw(t, "times")
		e.Flat, e.Mirror = rapid.Bool().Draw(t, "flat"), rapid.Bool().Draw(t, "mirror")
		e.Limit, e.RestLimit = rapid.IntRange(1, 6).Draw(t, "limit"), rapid.IntRange(0, 4).Draw(t, "rest limit")
		e.Method = rapid.SampledFrom([]string{"weave", "twist"}).Draw(t, "method")
	}, quickPlan)
	for range rapid.IntRange(0, w.piece.Rows()).Draw(t, "rows") {
		w.row(drawDeviation(t, w.piece.Row(w.state.Row+1)))
	}
	return w
}

// drawDeviation drops some of the catches shown and adds others, on stitches of
// another yarn.
func drawDeviation(t *rapid.T, r *floats.Row) func([]Mark) []Mark {
	return func(marks []Mark) []Mark {
		kept := slices.DeleteFunc(marks, func(Mark) bool { return rapid.IntRange(0, 4).Draw(t, "drop") == 0 })
		for range rapid.IntRange(0, 2).Draw(t, "extra") {
			m := Mark{rapid.IntRange(1, r.Stitches()).Draw(t, "at"), rapid.IntRange(0, 2).Draw(t, "yarn")}
			if r.Stitch(m.Stitch).Yarn != m.Yarn {
				kept = append(kept, m)
			}
		}
		slices.SortFunc(kept, Mark.Compare)
		return slices.Compact(kept)
	}
}

// counted counts gaps over the limit by walking the stitches one by one.
type counted struct {
	p     *Piece
	used  []*DoneRow
	found []string
}

func (c *counted) worked(row int) bool { return row <= len(c.used) }

// walk passes a yarn behind stitches one after another and closes a gap at every catch.
func (c *counted) walk(yarn int, spots []Spot) {
	var open []Spot
	closeGap := func() {
		if n := len(open); n > c.p.State.Setup.Limit {
			c.found = append(c.found, fmt.Sprint(yarn, open[0], open[n-1], n))
		}
		open = nil
	}
	for _, s := range spots {
		caught := slices.Contains(c.used[s.Row-1].Used, Mark{s.Stitch, yarn})
		if caught {
			closeGap()
		}
		if !caught || c.p.State.Setup.Method == "twist" {
			open = append(open, s)
		}
	}
	closeGap()
}

// from lists the stitches of a row from one to another, both in.
func (c *counted) from(row, first, last int) []Spot {
	var spots []Spot
	for s := first; s <= last; s++ {
		spots = append(spots, c.p.Spot(row, s))
	}
	return spots
}

// between walks the way of a yarn between two neighbouring uses.
func (c *counted) between(yarn int, a, b Spot) {
	end := c.p.Row(a.Row).Stitches()
	resting := b.Row - a.Row - 1
	switch {
	case a.Row == b.Row:
		if c.worked(a.Row) {
			c.walk(yarn, c.from(a.Row, a.Stitch+1, b.Stitch-1))
		}
	case b.Row == a.Row+1 && !c.p.State.Setup.Flat:
		if c.worked(b.Row) {
			c.walk(yarn, append(c.from(a.Row, a.Stitch+1, end), c.from(b.Row, 1, b.Stitch-1)...))
		}
	case resting <= c.p.State.Setup.RestLimit:
		if c.worked(a.Row) {
			c.walk(yarn, c.from(a.Row, a.Stitch+1, end))
		}
		if wrongEdge := c.p.State.Setup.Flat && resting%2 == 1; wrongEdge && c.worked(b.Row-1) {
			c.walk(yarn, c.from(b.Row-1, 1, c.p.Row(b.Row-1).Stitches()))
		}
		if c.worked(b.Row) {
			c.walk(yarn, c.from(b.Row, 1, b.Stitch-1))
		}
	}
}

// gapsByHand is the independent count of the gaps over the limit, sorted.
func gapsByHand(p *Piece) []string {
	c := &counted{p: p, used: p.State.DoneRows}
	for yarn := range p.Layout.Fabric.Yarns {
		last := Spot{}
		for row := 1; row <= p.Rows(); row++ {
			r := p.Row(row)
			for stitch := 1; stitch <= r.Stitches(); stitch++ {
				if r.Stitch(stitch).Yarn != yarn {
					continue
				}
				if last.Row > 0 {
					c.between(yarn, last, p.Spot(row, stitch))
				}
				last = p.Spot(row, stitch)
			}
		}
	}
	slices.Sort(c.found)
	return c.found
}

// Every catch made is counted once, by row and by yarn; planned and made differ by what
// was missed and added.
func TestReviewAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawWorked(t).piece.Review(nil)
		byYarn, byRow := 0, 0
		for _, y := range r.ByYarn {
			byYarn += y.Catches
		}
		for _, row := range r.Rows {
			byRow += row.Tally.Used
		}
		require.Equal(t, r.Catches.Used, byYarn)
		require.Equal(t, r.Catches.Used, byRow)
		require.Equal(t, r.Catches.Used, r.Catches.Planned-r.Catches.Missed+r.Catches.Extra)
		require.GreaterOrEqual(t, r.Time.SoFar, Seconds(0))
	})
}

// A row is held to the limit it was worked under.
func TestReviewAfterAnotherLimit(t *testing.T) {
	w := begin(t, "x....x....\nx....x....", nil)
	w.row(none)
	w.add(&Replanned{Limit: 3})
	w.lay()
	w.row(none)
	r := w.piece.Review(nil)
	require.Len(t, r.Mending, 2, "of 4 stitches each: from the start of round 2 on, and within it")
	assert.Equal(t, []Spot{w.piece.Spot(2, 1), w.piece.Spot(2, 6)}, []Spot{r.Mending[0].From, r.Mending[1].From})
	assert.Equal(t, 3, r.Mending[0].Limit)
	assert.Equal(t, 3, w.state.SegmentAt(3).Limit)
}

// before reports whether one place is worked before another.
func before(s, o Spot) bool {
	return s.Row < o.Row || s.Row == o.Row && s.Stitch < o.Stitch
}
