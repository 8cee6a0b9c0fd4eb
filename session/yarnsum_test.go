package session

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/floats"
)

func gaugeOf(t *testing.T, text string) floats.Gauge {
	t.Helper()
	g, err := floats.ParseGauge(text)
	require.NoError(t, err)
	return g
}

func TestLoops(t *testing.T) {
	// GATE Textile Engineering 2015, question 54: l = 5 mm, kc 5.5, kw 4.2: 92.4 stitches in a
	// square centimeter.
	k := loopConstants[FullyRelaxed]
	assert.InDelta(t, 92.4, k.kc*k.kw/(5*5)*100, 1e-9)
	// Munden, J. Textile Inst. 50 (1959) T448 (constants from memory): stitches per
	// area = ks / l², 30 stitches and 32 rows in 10 cm.
	g := gaugeOf(t, "30x32/10cm")
	assert.InDelta(t, 15.00, LoopLength(g, WetRelaxed), 0.005)
	assert.InDelta(t, 14.07, LoopLength(g, DryRelaxed), 0.005)
	assert.InDelta(t, 15.51, LoopLength(g, FullyRelaxed), 0.005)
	// With the stitch gauge alone kw: 4.1 stitch widths of 5 mm.
	assert.InDelta(t, 20.5, LoopLength(gaugeOf(t, "20/10cm"), WetRelaxed), 1e-9)
	for _, f := range Finishes() {
		assert.Equal(t, f, ParseFinish(f.String()))
	}
}

// yarned is a piece of two rounds, twice A1 B7 A2 in knitting order.
func yarned(t *testing.T, rows int, more ...Event) *Piece {
	t.Helper()
	text := "yarn: A oat #EFE6D2\nyarn: B fjord #1F4E79\nrows:\nAABBBBBBBA\nAABBBBBBBA\n"
	c, err := chart.Parse("test", []byte(text))
	require.NoError(t, err)
	on := band()
	on.Parts = []PartRef{{Name: "test", Hash: [32]byte{1}, Repeats: 2, Times: 1, Rows: 2}}
	on.Gauge, on.Limit, on.Item = "30x32/10cm", 5, General
	l := newLog(t, on)
	p := &Piece{State: l.state}
	p.Layout, err = p.State.Lay(func([32]byte) (*chart.Chart, error) { return c, nil })
	require.NoError(t, err)
	plan, err := floats.MakePlan(context.Background(), p.Layout.Fabric, p.State.Task())
	require.NoError(t, err)
	p.Schedule = NewSchedule(plan, 2)
	for row := 1; row <= rows; row++ {
		marks := p.Schedule.Row(row)
		l.add(&RowKnit{Row: row, Shown: marks, Used: marks})
	}
	l.add(more...)
	p.State = l.state
	return p
}

// TestYarnSumByHand reckons a piece by hand.
//
// At 30 stitches and 32 rows in 10 cm a loop is 15 mm (ks 21.6), a stitch 3.333 mm
// wide, so a stitch of float takes 3.5 mm with 5 % slack and a catch 1.667 mm.
//
// A round is A1 B7 A2 A1 B7 A2. Stitches: A 6, B 14 a round, so loops of A 12 x 15 =
// 180 mm and of B 28 x 15 = 420 mm.
//
// Floats of A: twice 7 in each round, 28 x 3.5 = 98 mm. None over the start, where A
// ends one round and begins the next. Floats of B: 3 between the repeats of each
// round, 3 over the start (2 below, 1 above), 9 x 3.5 = 31.5 mm.
//
// Catches: limit 5, so each float of 7 is caught once, 4 x 1.667 = 6.667 mm of A.
//
// Ends: 150 mm where a yarn begins and 150 mm where it ends.
func TestYarnSumByHand(t *testing.T) {
	p := yarned(t, 1)
	s, err := p.YarnSum(floats.Gauge{}, WetRelaxed)
	require.NoError(t, err)
	same := func(want, got YarnParts) {
		t.Helper()
		assert.InDelta(t, want.Loops, got.Loops, 1e-6)
		assert.InDelta(t, want.Floats, got.Floats, 1e-6)
		assert.InDelta(t, want.Catches, got.Catches, 1e-6)
		assert.InDelta(t, want.Ends, got.Ends, 1e-6)
	}
	same(YarnParts{180, 98, 20. / 3, 300}, s.Between(0, 1, 2))
	same(YarnParts{420, 31.5, 0, 300}, s.Between(1, 1, 2))
	same(YarnParts{90, 49, 10. / 3, 150}, s.Between(0, 1, 1))
	same(YarnParts{210, 17.5, 0, 150}, s.Between(1, 1, 1)) // 3 and the 2 below the start
	same(YarnParts{210, 14, 0, 150}, s.Between(1, 2, 2))   // 3 and the 1 above it
	assert.InDelta(t, 751.5, s.Between(1, 1, 2).Total(), 1e-6)
	assert.Zero(t, s.Between(0, 2, 1).Total(), "no rows")
}

func TestYarnSumNeedsAGauge(t *testing.T) {
	p := yarned(t, 0)
	p.State.Segments[0].Gauge = ""
	_, err := p.YarnSum(floats.Gauge{}, WetRelaxed)
	var none *NoGaugeError
	require.ErrorAs(t, err, &none)
	s, err := p.YarnSum(gaugeOf(t, "20/10cm"), WetRelaxed)
	require.NoError(t, err)
	assert.InDelta(t, 12*20.5, s.Between(0, 1, 2).Loops, 1e-9)
}

func TestSuppliesAreScaledByWhatWasUsed(t *testing.T) {
	for name, c := range map[string]struct {
		events          []Event
		meters, grams   float64 // of B, worked so far
		whole           float64 // grams of the whole
		factor, perGram float64
	}{
		"nothing measured": {nil, 0.3775, 0, 0, 1, 0},
		"a ball":           {[]Event{&BallNoted{Yarn: 'B', Grams: 50000, Meters: 175000}}, 0.3775, 0.3775 / 3.5, 0.7515 / 3.5, 1, 3.5},
		"weighed, with a ball": {
			[]Event{&BallNoted{Yarn: 'B', Grams: 50000, Meters: 175000}, &YarnUsed{Yarn: 'B', Grams: 200}},
			0.7, 0.2, 0.2 * 751.5 / 377.5, 0.7 / 0.3775, 3.5,
		},
		"weighed, no ball": {[]Event{&YarnUsed{Yarn: 'B', Grams: 200}}, 0.3775, 0.2, 0.2 * 751.5 / 377.5, 1, 0.3775 / 0.2},
		"measured":         {[]Event{&YarnUsed{Yarn: 'B', Meters: 500}}, 0.5, 0, 0, 0.5 / 0.3775, 0},
		"the newest counts": {
			[]Event{&YarnUsed{Yarn: 'B', Meters: 900}, &YarnUsed{Yarn: 'B', Meters: 500, Grams: 250}},
			0.5, 0.25, 0.25 * 751.5 / 377.5, 0.5 / 0.3775, 2,
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := yarned(t, 1, c.events...)
			sum, err := p.YarnSum(floats.Gauge{}, WetRelaxed)
			require.NoError(t, err)
			s := p.Supplies(sum)[1]
			assert.InDelta(t, c.factor, s.Factor, 1e-9)
			assert.InDelta(t, c.perGram, s.PerGram, 1e-9)
			assert.InDelta(t, c.meters, s.Meters(s.Done), 1e-9)
			assert.InDelta(t, c.grams, s.Grams(s.Done), 1e-9)
			assert.InDelta(t, c.whole, s.Grams(s.Whole), 1e-9)
			assert.InDelta(t, s.Meters(s.Whole), s.Meters(s.Done)+s.Meters(s.ToCome), 1e-9)
		})
	}
}

func TestMeasuredWhenAllIsDoneTheTotalIsWhatWasUsed(t *testing.T) {
	p := yarned(t, 2, &YarnUsed{Yarn: 'B', Grams: 18000}, &YarnUsed{Yarn: 'A', Meters: 31000})
	sum, err := p.YarnSum(floats.Gauge{}, WetRelaxed)
	require.NoError(t, err)
	supplies := p.Supplies(sum)
	assert.InDelta(t, 31, supplies[0].Meters(supplies[0].Whole), 1e-9)
	assert.InDelta(t, 18, supplies[1].Grams(supplies[1].Whole), 1e-9)
	assert.Zero(t, supplies[1].ToCome.Total())
}

func TestHowFarTheStockReaches(t *testing.T) {
	for _, c := range []struct {
		meters Milli
		enough int
		short  float64
	}{
		{1000, 2, 0.7515 - 1}, {752, 2, 0.7515 - 0.752}, {750, 1, 0.0015}, {378, 1, 0.3735}, {377, 0, 0.3745},
	} {
		p := yarned(t, 0, &BallNoted{Yarn: 'B', Meters: c.meters, DyeLot: "12"}, &BallNoted{Yarn: 'A', Grams: 50000, DyeLot: "12"})
		sum, err := p.YarnSum(floats.Gauge{}, WetRelaxed)
		require.NoError(t, err)
		s := p.Supplies(sum)
		assert.Equal(t, c.enough, s[1].Enough, c.meters)
		assert.InDelta(t, c.short, s[1].Short, 1e-9)
		assert.Zero(t, s[0].Stock, "grams alone are no length")
		assert.Equal(t, []string{"12"}, s[1].Lots)
	}
	p := yarned(t, 1, &BallNoted{Yarn: 'B', Meters: 1000}, &YarnUsed{Yarn: 'B', Meters: 755})
	sum, err := p.YarnSum(floats.Gauge{}, WetRelaxed)
	require.NoError(t, err)
	s := p.Supplies(sum)[1]
	assert.InDelta(t, 0.245, s.Left, 1e-9)
	assert.InDelta(t, 2*0.374-0.245, s.Short, 1e-3, "twice as much is used as was reckoned")
	assert.Zero(t, s.Enough)
}

func TestDyeLots(t *testing.T) {
	p := yarned(t, 0, &BallNoted{Yarn: 'B', DyeLot: "12"}, &BallNoted{Yarn: 'B', DyeLot: "13"}, &BallNoted{Yarn: 'B', DyeLot: "12"})
	sum, err := p.YarnSum(floats.Gauge{}, WetRelaxed)
	require.NoError(t, err)
	assert.Equal(t, []string{"12", "13"}, p.Supplies(sum)[1].Lots)
	assert.Len(t, p.Supplies(sum)[1].Balls, 3)
}

// TestYarnOfSlippedAndShapedStitches: a slipped stitch takes no loop but a stitch of
// float, k2tog one loop, kfb two, in the row after which nothing follows.
func TestYarnOfSlippedAndShapedStitches(t *testing.T) {
	text := "yarn: A oat #EFE6D2\nstitch: s A slip\nstitch: k A k2tog\nstitch: f A kfb\nrows:\nskfA\n"
	c, err := chart.Parse("test", []byte(text))
	require.NoError(t, err)
	p := yarned(t, 0)
	p.Layout.Fabric, err = floats.Lay([]floats.Part{{Name: "test", Chart: c, Repeats: 1, Times: 1}}, floats.Work{})
	require.NoError(t, err)
	p.Schedule = NewSchedule(&floats.Plan{Limit: 5}, 1)
	s, err := p.YarnSum(floats.Gauge{}, WetRelaxed)
	require.NoError(t, err)
	got := s.Between(0, 1, 1)
	assert.InDelta(t, 4*15, got.Loops, 1e-9)
	assert.InDelta(t, 3.5, got.Floats, 1e-9)
	assert.InDelta(t, 300, got.Ends, 1e-9)
}
