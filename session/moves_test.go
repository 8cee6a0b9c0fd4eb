package session

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/session/hold"
)

// A change of yarn in a place is told at its row, and nothing else is.
func TestMovesAreToldOnce(t *testing.T) {
	// From the bottom: oat and fjord; oat alone; oat and fjord; kelp takes fjord's
	// place; fjord takes it back.
	p := begin(t, "x...x\nk...k\nx...x\n.....\nx...x", nil).piece
	moved := func(row int) []int {
		var yarns []int
		for _, s := range p.Sheet(row).Moves {
			yarns = append(yarns, s.Yarn.Index)
		}
		return yarns
	}
	assert.ElementsMatch(t, []int{0, 1}, moved(1), "all seats of the first row")
	assert.Empty(t, moved(2))
	assert.Empty(t, moved(3), "fjord comes back to the place it left free")
	assert.Equal(t, []int{2}, moved(4))
	assert.Equal(t, []int{1}, moved(5))
}

func TestMovesInARotatingCarryAreToldOnce(t *testing.T) {
	p := begin(t, "x...x\nx...x", func(e *CastOn) { e.Hold, e.Carry, e.Method = "one-at-a-time", "rotating", "twist" }).piece
	assert.Len(t, p.Sheet(1).Moves, 2)
	assert.Empty(t, p.Sheet(2).Moves)
}

func TestMovesAfterAChangeOfHold(t *testing.T) {
	w := begin(t, "x...x\nx...x\nx...x", nil)
	w.row(nil)
	w.add(&HoldChanged{Grip{Hold: "left-one-finger"}})
	w.piece.State = w.state
	moves := w.piece.Sheet(2).Moves
	assert.Len(t, moves, 2)
	assert.Equal(t, hold.LowerStrand, moves[0].Place)
	assert.Empty(t, w.piece.Sheet(3).Moves)
}

// The strand from below is dominant, where that is usual or told; in a rotating carry none is.
func TestWhatComesFromBelowIsDominant(t *testing.T) {
	for _, h := range hold.Holds() {
		p := begin(t, "x...x", func(e *CastOn) { e.Hold = h.String() }).piece
		assert.True(t, p.YarnPlaces(1)[0].Dominant, h)
		assert.False(t, p.YarnPlaces(1)[1].Dominant)
	}
	p := begin(t, "x...x", func(e *CastOn) { e.Hold, e.Carry = "one-at-a-time", "rotating" }).piece
	assert.False(t, p.YarnPlaces(1)[0].Dominant)
}

// A motion is known once it was shown in three rows; rows knitted without the program
// showed nothing.
func TestMotionIsKnownAfterItWasShown(t *testing.T) {
	for name, unwitnessed := range map[string]bool{"shown": false, "unwitnessed": true} {
		w := begin(t, "x.........x\nx.........x\nx.........x\nx.........x", nil)
		for row := range 3 {
			assert.False(t, w.piece.Sheet(row + 1).Motions[0].Known, name)
			shown := w.piece.Shown(row + 1)
			w.add(&RowKnit{Row: row + 1, Shown: shown, Used: shown, Unwitnessed: unwitnessed})
			w.piece.State = w.state
		}
		assert.Equal(t, !unwitnessed, w.piece.Sheet(4).Motions[0].Known, name)
	}
}
