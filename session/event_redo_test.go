package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRedoneManySteps(t *testing.T) {
	l := castOn(t, 3)
	before := l.state
	l.undo() // 5 cancels 4
	l.undo() // 6 cancels 3
	l.redo() // 7 cancels 6
	assert.Equal(t, 2, l.state.Row)
	assert.EqualValues(t, 5, l.state.CanRedo)
	l.redo() // 8 cancels 5
	requireSameFabric(t, before, l.state)
	assert.Zero(t, l.state.CanRedo)
	assert.EqualValues(t, 4, l.state.CanUndo)
	assert.Equal(t, "redid event 4 (round 3 knitted)", l.words(8))
	assert.Equal(t, "undid event 4 (round 3 knitted) (redone)", l.words(5))
	l.undo()
	assert.Equal(t, 2, l.state.Row, "what was redone can be undone again")
	assert.EqualValues(t, 9, l.state.CanRedo)
}

func TestRedoneEndsWithANewEvent(t *testing.T) {
	l := castOn(t, 2)
	l.undo()
	l.knit(1)
	_, err := l.state.Redo()
	assertRefused(t, &RefusedError{What: "nothing to redo: no undo since the last change; log the step again instead"}, err)
	l.undo()
	l.undo()
	assert.Equal(t, 0, l.state.Row, "undoing passes over what was undone before")
}

func TestRedoneNamesTheNewestUndoing(t *testing.T) {
	l := castOn(t, 2)
	l.undo()
	l.undo()
	runRefused(t, []refused{
		{"older", l.state, &Redone{Seq: 4}, &RefusedError{What: "cannot redo event 4: event 5 comes first; redo that one"}},
		{"not an undoing", l.state, &Redone{Seq: 2}, &RefusedError{What: "cannot redo event 2: event 5 comes first; redo that one"}},
	})
}
