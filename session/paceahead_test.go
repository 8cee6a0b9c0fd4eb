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
