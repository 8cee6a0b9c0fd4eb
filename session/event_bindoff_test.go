package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestBoundOffState(t *testing.T) {
	l := castOn(t, 3)
	l.add(&Paused{Stitch: 4}, &BoundOff{})
	assert.True(t, l.state.BoundOff)
	assert.Zero(t, l.state.Begun)
	assert.Zero(t, l.state.Next())
	assert.Equal(t, "bound off", l.words(6))
	runRefused(t, []refused{{"twice", l.state, &BoundOff{}, &BoundOffError{Rows: 3, Round: true}}})
	l.undo()
	assert.Equal(t, 4, l.state.Next())
	assert.Equal(t, 4, l.state.Begun)
}
