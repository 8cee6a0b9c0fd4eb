package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBallsClearedState(t *testing.T) {
	l := newLog(t, band(), &BallNoted{Yarn: 'x', Grams: 50000, DyeLot: "T 12"}, &BallNoted{Yarn: '.', Meters: 400000})
	l.add(&BallsCleared{Yarn: 'x'}, &BallNoted{Yarn: 'x', Meters: 1000})
	require.Len(t, l.state.Balls, 2)
	assert.Equal(t, []rune{'.', 'x'}, []rune{l.state.Balls[0].Yarn, l.state.Balls[1].Yarn})
	assert.Empty(t, l.state.Balls[1].DyeLot, "the lot goes with its ball")
	assert.Equal(t, "balls of fjord forgotten", l.words(4))
	l.add(&Undone{Seq: 5}, &Undone{Seq: 4})
	assert.Equal(t, []string{"T 12", ""}, []string{l.state.Balls[0].DyeLot, l.state.Balls[1].DyeLot}, "undone, the ball is there again")
	runBadFields(t, l.state, []badField{{"yarn", &BallsCleared{Yarn: '\n'}}})
}
