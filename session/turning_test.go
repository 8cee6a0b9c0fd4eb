package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session/hold"
)

const tenLights = "x.x.x.x.x.\nx.x.x.x.x.\nx.x.x.x.x.\nx.x.x.x.x.\nx.x.x.x.x.\nx.x.x.x.x."

// Ten changes of yarn a row are ten crossings, five turns: every fourth row brings
// twenty new ones.
func TestNewTurnsAreToldAtEveryTwenty(t *testing.T) {
	w := begin(t, tenLights, func(e *CastOn) {
		e.Parts[0].Times = 2
		e.Grip = Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: DominantPattern}
	})
	var told []int
	for row := 1; row <= 12; row++ {
		w.row(nil)
		for _, tangle := range w.piece.NewTurns() {
			told = append(told, row)
			assert.Equal(t, hold.MentionAfter, tangle.Turns/hold.MentionAfter*hold.MentionAfter)
		}
	}
	// The first row's first stitch changes nothing: 9 crossings, then 10 a row.
	assert.Equal(t, []int{5, 9}, told)
}

func TestStrandsThatNeverTurnAreNotCounted(t *testing.T) {
	w := begin(t, tenLights, func(e *CastOn) { e.Parts[0].Times = 2 })
	for range 12 {
		w.row(nil)
		require.Empty(t, w.piece.NewTurns())
	}
	assert.False(t, w.piece.turning(), "so nothing is counted at all")
}

func TestCarried(t *testing.T) {
	w := begin(t, "..........\nx.......x.", func(e *CastOn) { e.Flat = true })
	// The row begins at the right: 1 oat, 1 fjord, 7 oat, 1 fjord.
	assert.False(t, w.piece.Carried(1, 1, 1), "fjord was never used before")
	assert.False(t, w.piece.Carried(1, 2, 1), "worked in fjord itself")
	assert.True(t, w.piece.Carried(1, 3, 1))
	assert.True(t, w.piece.Carried(1, 9, 1))
	assert.True(t, w.piece.Carried(1, 2, 0))
}

// Arithmetic: the changes of yarn of three rounds are 5, 6 and 7, each +1; every twist of a
// rotating carry is made in the taught way and is two crossings the other way, -2.
func TestTwistsAreCountedAsTheSheetTellsThem(t *testing.T) {
	w := begin(t, "xx.......x\n..xxxxxxx.\n.xxxxxxxxx", func(e *CastOn) {
		e.Parts[0].Repeats = 3
		e.Limit = 5
		e.Grip = Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: DominantPattern}
	})
	twists := 0
	for row := range 3 {
		motions := w.piece.Sheet(row + 1).Motions
		require.Len(t, motions, 1)
		assert.Equal(t, hold.Taught, motions[0].Way, "round %d", row+1)
		twists += len(w.piece.Shown(row + 1))
		w.row(nil)
	}
	require.Positive(t, twists)
	assert.Equal(t, 5+6+7-2*twists, w.piece.Turns().Sum(0, 1))
}

// In a parallel carry a twist in the taught way leaves a turn, and the next goes the other
// way to take it out.
func TestTwistsOfAParallelCarryTakeTurnsOut(t *testing.T) {
	w := begin(t, "x.......x\nx.......x\nx.......x", func(e *CastOn) { e.Grip.Method = "twist" })
	require.Len(t, w.piece.Shown(1), 1)
	assert.Equal(t, hold.Taught, w.piece.Sheet(1).Motions[0].Way)
	w.row(nil)
	require.Equal(t, -2, w.piece.Turns().Sum(0, 1)/2*2)
	assert.Equal(t, hold.Other, w.piece.Sheet(2).Motions[0].Way)
}

// Flat work reverses the signs with its side and turns the strands itself: no figure.
func TestNoTurnsAreToldOfFlatWork(t *testing.T) {
	w := begin(t, tenLights, func(e *CastOn) {
		e.Flat = true
		e.Parts[0].Times = 2
		e.Grip = Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: DominantPattern}
	})
	for range 12 {
		w.row(nil)
		require.Empty(t, w.piece.NewTurns())
	}
	assert.Empty(t, w.piece.Turns().Tangles())
}

// Where teachers differ the knitter tells what comes from below: dominance and motion both
// follow it, and neither the bytes of the cast-on nor its hold change.
func TestTheLowerPlaceIsTold(t *testing.T) {
	w := begin(t, "x.......x\nx.......x", func(e *CastOn) { e.Grip.Hold = "right-one-finger" })
	usual := w.piece.Sheet(1)
	require.Equal(t, hold.FarStrand, usual.YarnPlaces[0].Place)
	w.add(&LowerSet{Place: "near strand"})
	w.lay()
	told := w.piece.Sheet(1)
	assert.Equal(t, hold.NearStrand, told.YarnPlaces[0].Place, "the dominant yarn lies lower")
	assert.True(t, told.YarnPlaces[0].Dominant)
	assert.Equal(t, usual.YarnPlaces[0].Yarn, told.YarnPlaces[0].Yarn)
	assert.NotEqual(t, usual.Motions[0].Carried, told.Motions[0].Carried)
	assert.Equal(t, usual.Motions[0].Level, told.Motions[0].Level, "the same yarn comes from below as before, on another finger")
	assert.ErrorAs(t, w.state.Check(&LowerSet{Place: "upper strand"}), new(*hold.PlaceError))
	w.add(&HoldChanged{Grip{Hold: "two-hands"}})
	assert.Empty(t, w.state.Setup.Lower, "it was told of other hands")
}

// At a turn of flat work a yarn at neither edge is led across the first yarn for one
// stitch, over it where it comes from below and beneath it from above.
func TestTurnsAnchorAYarnAtTheEdge(t *testing.T) {
	w := begin(t, "..xxx..\n..xxx..", func(e *CastOn) { e.Flat = true })
	require.True(t, w.piece.YarnPlaces(2)[0].Yarn.Index == 1 && w.piece.YarnPlaces(2)[0].Dominant, "fjord comes from below")
	assert.Contains(t, w.piece.rowShown(2).notes(), RowNote{"edge", "at the turn lead fjord to the right over oat; after the first stitch it comes back beneath"})
	w = begin(t, "..xxx..\n..xxx..", func(e *CastOn) { e.Flat, e.Grip.Dominant = true, DominantBackground })
	assert.Contains(t, w.piece.rowShown(2).notes(), RowNote{"edge", "at the turn lead fjord to the right beneath oat; after the first stitch it comes back over"})
	w = begin(t, "x.xxx..\n..xxx.x", func(e *CastOn) { e.Flat = true })
	assert.Empty(t, kindsOf(w.piece, 2), "fjord is worked right before the turn")
}

// A purl on a right-side row, and what is worked as a knit on a wrong-side row, is twisted
// with both yarns on the wrong side, never woven.
func TestAStitchAgainstItsSideIsTwisted(t *testing.T) {
	text := "yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nstitch: - . purl\nrows:\nx-------x\nx-------x\n"
	c, err := chart.Parse("rib.chart", []byte(text))
	require.NoError(t, err)
	w := begin(t, "x.......x\nx.......x", func(e *CastOn) { e.Flat = true })
	w.charts = func([32]byte) (*chart.Chart, error) { return c, nil }
	w.lay()
	for row := 1; row <= 2; row++ {
		motions := w.piece.Sheet(row).Motions
		require.NotEmpty(t, motions)
		assert.True(t, motions[0].Against)
		assert.Equal(t, floats.Twist, motions[0].Method)
	}
}

// Two carried strands that share a hand: both are lifted where both are due, else the one
// is named that is left.
func TestTwoStrandsInOneHandAreTold(t *testing.T) {
	w := begin(t, "x.k......k.x\nx.k......k.x", nil)
	lifts := map[string]bool{}
	for row := 1; row <= 2; row++ {
		for _, m := range w.piece.Sheet(row).Motions {
			lifts[m.Lift] = true
		}
	}
	assert.NotContains(t, lifts, "lift both", "never two at one stitch here")
	assert.True(t, lifts["lift only fjord, leave kelp"] || lifts["lift only kelp, leave fjord"], "%v", lifts)
}
