package session

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/floats"
)

func TestHoldChangedState(t *testing.T) {
	l := castOn(t, 2)
	l.add(&HoldChanged{Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist"}}, &HoldChanged{Grip{Dominant: "x"}})
	want := Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: "x"}
	assert.Equal(t, want, l.state.Setup.Grip)
	assert.Equal(t, floats.Twist, l.state.Setup.FloatMethod())
	assert.Equal(t, floats.Weave, band().FloatMethod())
	assert.Len(t, l.state.Grips, 3)
	assert.Equal(t, "changed: hold one-at-a-time, carry rotating, caught by twisting", l.words(4))
	assert.Equal(t, "changed: dominant fjord", l.words(5))
}

func TestHoldChangedRefused(t *testing.T) {
	s := castOn(t, 2).state
	runBadFields(t, s, []badField{
		{"hold", &HoldChanged{Grip{Hold: "two\nhands"}}},
		{"carry", &HoldChanged{Grip{Carry: "sideways"}}},
		{"method", &HoldChanged{Grip{Method: "knot"}}},
		{"dominant", &HoldChanged{Grip{Dominant: "Pattern"}}},
	})
	runRefused(t, []refused{
		{"nothing given", s, &HoldChanged{}, band().Grip.refuseSameHold()},
		{"as it is", s, &HoldChanged{band().Grip}, band().Grip.refuseSameHold()},
		{"bound off", newLog(t, band(), &BoundOff{}).state, &HoldChanged{Grip{Method: "twist"}}, &RefusedError{What: "the piece is bound off after round 0; undo the bind-off to go on"}},
	})
}
