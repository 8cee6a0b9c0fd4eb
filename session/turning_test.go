package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	assert.False(t, w.piece.Carried(1, 1), "fjord was never used before")
	assert.False(t, w.piece.Carried(2, 1), "worked in fjord itself")
	assert.True(t, w.piece.Carried(3, 1))
	assert.True(t, w.piece.Carried(9, 1))
	assert.True(t, w.piece.Carried(2, 0))
}

// Arithmetic: the changes of yarn of three rounds are 5, 6 and 7, all one way. The
// twists go as the sheet says, in turn: under and over in round 1 (nothing left), then
// over, under, over in rounds 2 and 3 (one back in each). 18 - 2 crossings are 8 turns.
func TestTwistsAreCountedAsTheSheetTellsThem(t *testing.T) {
	w := begin(t, "xx.......x\n..xxxxxxx.\n.xxxxxxxxx", func(e *CastOn) {
		e.Parts[0].Repeats = 3
		e.Limit = 5
		e.Grip = Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: DominantPattern}
	})
	for row, want := range []hold.Sense{hold.Under, hold.Over, hold.Over} {
		motions := w.piece.Sheet(row + 1).Motions
		require.Len(t, motions, 1)
		assert.Equal(t, want, motions[0].Sense, "round %d", row+1)
		w.row(nil)
	}
	tangles := w.piece.Turns().Tangles()
	require.Len(t, tangles, 1)
	assert.Equal(t, 8, tangles[0].Turns)
}
