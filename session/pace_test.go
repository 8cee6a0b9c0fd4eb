package session

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// timed logs rows after the given gaps in minutes; a row of 60 stitches each.
func timed(t *testing.T, minutes ...int) *testLog {
	l := castOn(t, len(minutes))
	at := noon
	for i, m := range minutes {
		at = at.Add(time.Duration(m) * time.Minute)
		l.records[i+1].At = at
	}
	l.state = fold(t, l.records)
	return l
}

func sixty(int) int { return 60 }

func TestPaceOfNothing(t *testing.T) {
	assert.Equal(t, Pace{}, castOn(t, 0).state.Pace(sixty))
	one := timed(t, 5).state.Pace(sixty)
	assert.Zero(t, one.PerStitch, "one row has no row before it to measure from")
	assert.Len(t, one.Sittings, 1)
	assert.Zero(t, one.ToCome)
}

func TestPaceLeavesBreaksOut(t *testing.T) {
	cases := []struct {
		name    string
		minutes []int
		per     time.Duration
		rows    []int // of each sitting
	}{
		{"steady", []int{0, 3, 3, 3}, 3 * time.Second, []int{4}},
		{"the night between", []int{0, 3, 3, 600, 3}, 3 * time.Second, []int{3, 2}},
		{"31 minutes", []int{0, 10, 10, 31, 10}, 10 * time.Second, []int{3, 2}},
		{"30 minutes", []int{0, 10, 10, 30, 10}, 10 * time.Second, []int{5}},
		{"over five times the median", []int{0, 3, 3, 16, 3}, 3 * time.Second, []int{3, 2}},
		{"five times the median", []int{0, 3, 3, 15, 3}, 3 * time.Second, []int{5}},
		{"the clock set back", []int{0, 3, 3, -600, 3}, 3 * time.Second, []int{3, 2}},
		{"two middle rows", []int{0, 2, 4}, 3 * time.Second, []int{3}},
	}
	for _, c := range cases {
		p := timed(t, c.minutes...).state.Pace(sixty)
		assert.Equal(t, Seconds(c.per), p.PerStitch, c.name)
		var rows []int
		for _, sitting := range p.Sittings {
			rows = append(rows, sitting.Rows)
		}
		assert.Equal(t, c.rows, rows, c.name)
		assert.Equal(t, len(c.minutes)-len(c.rows), p.Measured, c.name)
	}
}

func TestPaceAddsUp(t *testing.T) {
	l := timed(t, 0, 3, 3, 600, 6)
	l.add(&Paused{Stitch: 20})
	p := l.state.Pace(sixty)
	// Median of 3, 3 and 6 minutes: 3 s a stitch. Sittings: 3 (first row) + 3 + 3 and 3 + 6.
	assert.Equal(t, []Sitting{
		{From: noon, To: noon.Add(6 * time.Minute), First: 1, Last: 3, Rows: 3, Stitches: 180, Time: Seconds(9 * time.Minute), PerStitch: Seconds(3 * time.Second)},
		{From: noon.Add(606 * time.Minute), To: noon.Add(612 * time.Minute), First: 4, Last: 5, Rows: 2, Stitches: 120, Time: Seconds(9 * time.Minute), PerStitch: Seconds(6 * time.Second)},
	}, p.Sittings)
	assert.Equal(t, Seconds(18*time.Minute), p.SoFar)
	assert.Equal(t, Seconds((19*60-20)*3*time.Second), p.ToCome, "19 rows less the 20 stitches begun")
	l.add(&BoundOff{})
	assert.Zero(t, l.state.Pace(sixty).ToCome)
}

func TestPaceGoesByTheStitch(t *testing.T) {
	l := timed(t, 0, 2, 4)
	p := l.state.Pace(func(row int) int { return 20 * row })
	// Row 2: 120 s over 40 stitches, row 3: 240 s over 60; the mean of 3 s and 4 s.
	assert.Equal(t, Seconds(3500*time.Millisecond), p.PerStitch)
	assert.Equal(t, 120, p.Sittings[0].Stitches)
}

func TestPaceLeavesUnwitnessedAndUndoneRowsOut(t *testing.T) {
	l := timed(t, 0, 3, 3)
	want := l.state.Pace(sixty)
	at := l.state.LastAt
	log := func(e Event, minutes int) {
		l.add(e)
		at = at.Add(time.Duration(minutes) * time.Minute)
		l.records[len(l.records)-1].At = at
		l.state = fold(t, l.records)
	}
	log(&RowKnit{Row: 4}, 1)
	log(&Undone{Seq: 5}, 1)
	got := l.state.Pace(sixty)
	assert.Equal(t, want.Sittings, got.Sittings)

	log(&RowKnit{Row: 4, Unwitnessed: true}, 1)
	log(&RowKnit{Row: 5, Unwitnessed: true}, 0)
	log(&RowKnit{Row: 6}, 1)
	got = l.state.Pace(sixty)
	assert.Equal(t, want.PerStitch, got.PerStitch)
	assert.Equal(t, want.Measured, got.Measured)
	assert.Len(t, got.Sittings, 2, "nothing is known of when row 6 was begun")
}

func TestPaceCountsRippedRows(t *testing.T) {
	l := timed(t, 0, 3, 3)
	l.add(&Ripped{Rows: 2})
	l.add(&RowKnit{Row: 2})
	l.records[5].At = l.records[3].At.Add(5 * time.Minute)
	p := fold(t, l.records).Pace(sixty)
	assert.Equal(t, 4, p.Sittings[0].Rows)
	assert.Equal(t, 2, p.Sittings[0].Last)
	assert.Equal(t, Seconds(14*time.Minute), p.SoFar, "3 for the first row, 3, 3, and 5 with the ripping")
}

func TestStudentsDistribution(t *testing.T) {
	for degrees := leastMeasured - 1; degrees < 400; degrees++ {
		want := distuv.StudentsT{Sigma: 1, Nu: float64(degrees)}.Quantile(0.95)
		assert.InEpsilon(t, want, student95(float64(degrees)), 0.005, "%d degrees", degrees)
	}
}

// paceOf is a pace of measured rows of so many seconds each, 60 stitches in a row.
func paceOf(seconds ...float64) Pace {
	var p Pace
	for i, s := range seconds {
		p.Rows = append(p.Rows, RowTime{Row: i + 1, Stitches: 60, Time: Seconds(s * float64(time.Second)), Measured: true})
	}
	return p
}

// The interval by gonum's mean, deviation and quantile, from the form for rows of as many
// stitches: k rows take k times the mean of k further observations.
func TestLikelyIsThePredictionInterval(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		var seconds []float64
		for range 4 + r.IntN(40) {
			seconds = append(seconds, 120+r.Float64()*120)
		}
		left := make([]int, 1+r.IntN(60))
		for i := range left {
			left[i] = 60
		}
		n, k := float64(len(seconds)), float64(len(left))
		mean, deviation := stat.MeanStdDev(seconds, nil)
		off := distuv.StudentsT{Sigma: 1, Nu: n - 1}.Quantile(0.95) * deviation * math.Sqrt(1/k+1/n)
		got := paceOf(seconds...).likely(left)
		assert.InEpsilon(t, k*(mean-off), time.Duration(got[0]).Seconds(), 0.005)
		assert.InEpsilon(t, k*(mean+off), time.Duration(got[1]).Seconds(), 0.005)
	}
}

// Of pieces knitted to their end nine of ten end within the range told on the way, rows of
// unlike length among them.
func TestNineOfTenPiecesEndWithinTheirRange(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	within, pieces := 0, 4000
	for range pieces {
		var p Pace
		row := func(n int) Seconds {
			return Seconds(float64(n) * (3 + 0.4*r.NormFloat64()) * float64(time.Second))
		}
		for i := range 12 {
			p.Rows = append(p.Rows, RowTime{Row: i + 1, Stitches: 60 + 4*i, Time: row(60 + 4*i), Measured: true})
		}
		var left []int
		took := Seconds(0)
		for i := range 20 {
			left = append(left, 140-6*i)
			took += row(left[i])
		}
		if likely := p.likely(left); likely[0] <= took && took <= likely[1] {
			within++
		}
	}
	assert.InDelta(t, 0.9, float64(within)/float64(pieces), 0.015)
}

func TestNoRangeFromFewRows(t *testing.T) {
	assert.Zero(t, paceOf(180, 200, 190).likely([]int{60}))
	assert.Zero(t, paceOf(180, 200, 190, 185).likely(nil))
	steady := paceOf(180, 180, 180, 180).likely([]int{60, 30})
	assert.Equal(t, [2]Seconds{Seconds(270 * time.Second), Seconds(270 * time.Second)}, steady)
	assert.Zero(t, paceOf(1, 900, 1, 900).likely([]int{60})[0], "no less than nothing")
}

func TestPaceOfASitting(t *testing.T) {
	p := timed(t, 0, 3, 3, 600, 6, 6, 6).state.Pace(sixty)
	require.Len(t, p.Sittings, 2)
	assert.Equal(t, Seconds(3*time.Second), p.Sittings[0].PerStitch)
	assert.Equal(t, Seconds(6*time.Second), p.Sittings[1].PerStitch)
	assert.Len(t, p.Rows, 7)
	assert.Equal(t, RowTime{Row: 5, Stitches: 60, Time: Seconds(6 * time.Minute), Measured: true, at: p.Rows[4].at}, p.Rows[4])
	assert.False(t, p.Rows[3].Measured)
	assert.NotZero(t, p.Likely[0])
	assert.Less(t, p.Likely[0], p.Likely[1])
	assert.Zero(t, timed(t, 0).state.Pace(sixty).Sittings[0].PerStitch, "nothing was measured in it")
}
