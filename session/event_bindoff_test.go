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
	runRefused(t, []refused{{"twice", l.state, &BoundOff{}, &RefusedError{What: "the piece is bound off after round 3; undo the bind-off to go on"}}})
	l.undo()
	assert.Equal(t, 4, l.state.Next())
	assert.Equal(t, 4, l.state.Begun)
}
