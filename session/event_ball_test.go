package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestBallNotedState(t *testing.T) {
	l := newLog(t, band(), &BallNoted{Yarn: 'x', Grams: 50000, Meters: 175000, DyeLot: "T 12"})
	l.add(&BallNoted{Yarn: '.', DyeLot: "9"}, &BallNoted{Yarn: '.', Meters: 400000})
	assert.Equal(t, BallNoted{'x', 50000, 175000, "T 12"}, l.state.Balls[0])
	assert.Equal(t, "ball of fjord: 50 g, 175 m, dye lot T 12", l.words(2))
	assert.Equal(t, "ball of oat, dye lot 9", l.words(3))
	assert.Equal(t, "ball of oat: 400 m", l.words(4))
	runBadFields(t, l.state, []badField{
		{"amount", &BallNoted{Yarn: 'x'}},
		{"dye lot", &BallNoted{Yarn: 'x', DyeLot: "a\tb"}},
		{"yarn", &BallNoted{Yarn: '\n', Grams: 1}},
		{"grams", &BallNoted{Yarn: 'x', Grams: -5, DyeLot: "9"}},
	})
}
