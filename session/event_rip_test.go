package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRippedState(t *testing.T) {
	l := castOn(t, 5)
	l.add(&Paused{Stitch: 7}, &Ripped{Rows: 2})
	assert.Equal(t, 3, l.state.Row)
	assert.Len(t, l.state.DoneRows, 3)
	assert.Zero(t, l.state.Begun)
	assert.Equal(t, 2, l.state.Ripped)
	l.add(&RowKnit{Row: 4, Used: []Mark{{2, 1}}})
	assert.Equal(t, []Mark{{2, 1}}, l.state.DoneRow(4).Used, "the row as it was worked the second time")
	assert.Equal(t, "ripped back: the begun part and 2 rounds", l.words(8))
}

func TestRippedTakesTheBegunPartAlone(t *testing.T) {
	l := castOn(t, 1)
	l.add(&Paused{Stitch: 7}, &Ripped{})
	assert.Equal(t, 1, l.state.Row)
	assert.Zero(t, l.state.Begun)
	assert.Equal(t, "ripped back: the begun part", l.words(4))
}

func TestRippedOpensABoundOffPiece(t *testing.T) {
	l := castOn(t, 24)
	l.add(&BoundOff{}, &Ripped{})
	assert.False(t, l.state.BoundOff)
	assert.Equal(t, 24, l.state.Row)
	assert.Zero(t, l.state.Ripped)
	l.add(&BoundOff{}, &Ripped{Rows: 24})
	assert.Equal(t, 1, l.state.Next())
	assert.Equal(t, "ripped back: the binding off", l.words(27))
}

// What a rip took out is told alike when it was undone, and when that was undone.
func TestRippedWordsOutliveAnUndo(t *testing.T) {
	l := castOn(t, 24)
	l.add(&BoundOff{}, &Ripped{}, &Undone{Seq: 27})
	assert.Equal(t, "ripped back: the binding off (undone)", l.words(27))
	assert.Equal(t, "undid event 27 (ripped back: the binding off)", l.words(28))
	l.add(&Redone{Seq: 28})
	assert.Equal(t, "ripped back: the binding off", l.words(27))

	l = castOn(t, 5)
	l.add(&Paused{Stitch: 7}, &Undone{Seq: 7}, &Paused{Stitch: 9}, &Ripped{Rows: 2}, &Undone{Seq: 10})
	assert.Equal(t, "ripped back: the begun part and 2 rounds (undone)", l.words(10))
	l.add(&Ripped{})
	assert.Equal(t, "ripped back: the begun part and 2 rounds (undone)", l.words(10), "after another rip")
}

func TestRippedRefused(t *testing.T) {
	s := castOn(t, 3).state
	runRefused(t, []refused{
		{"more than worked", s, &Ripped{Rows: 4}, &RefusedError{What: "cannot rip back 4 rounds: 3 are worked; give 3 at most"}},
		{"nothing worked", castOn(t, 0).state, &Ripped{Rows: 1}, &RefusedError{What: "cannot rip back 1 round: none is worked yet; knit first"}},
		{"nothing begun", s, &Ripped{}, &RefusedError{What: "no round is begun, so nothing to rip out; give how many of the 3 finished rounds to rip back"}},
	})
	runBadFields(t, s, []badField{{"rounds to rip back", &Ripped{Rows: -1}}})
}
