package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPausedState(t *testing.T) {
	l := newLog(t, band(), &Paused{Stitch: 40})
	assert.Equal(t, 40, l.state.Begun)
	assert.Equal(t, "paused after stitch 40", l.words(2))
	l.add(&Paused{})
	assert.Zero(t, l.state.Begun)
	assert.Equal(t, "place in the round cleared", l.words(3))
}

func TestPausedRefused(t *testing.T) {
	runBadFields(t, castOn(t, 2).state, []badField{{"stitch", &Paused{Stitch: -1}}})
	runRefused(t, []refused{
		{"all worked", castOn(t, 24).state, &Paused{Stitch: 1}, &RefusedError{What: "all 24 rounds are worked; bind off, or rip back to work some again"}},
		{"bound off", newLog(t, band(), &BoundOff{}).state, &Paused{Stitch: 1}, &RefusedError{What: "the piece is bound off after round 0; undo the bind-off to go on"}},
	})
}
