package follow

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

func TestPauseIsDueAfterKnitting(t *testing.T) {
	k := sitting(t, Options{Pause: 30 * time.Minute})
	at, wanted := k.s.Wake()
	assert.True(t, wanted)
	assert.Equal(t, evening.Add(30*time.Minute), at)
	for range 3 {
		k.press(9*time.Minute, Char(" "))
	}
	assert.False(t, k.s.clock.due)
	k.press(9*time.Minute, Char(" "))
	assert.True(t, k.s.clock.due)
	k.press(10*time.Second, Char(" "))
	assert.True(t, k.s.clock.due, "hardly seen yet")
	k.press(2*time.Minute, Char(" "))
	assert.False(t, k.s.clock.due)
	at, _ = k.s.Wake()
	assert.Equal(t, k.now.Add(30*time.Minute), at, "and it counts anew")
}

func TestPauseIsDueInTheMiddleOfARow(t *testing.T) {
	k := sitting(t, Options{Pause: 30 * time.Minute})
	at, _ := k.s.Wake()
	s := k.s.Tick(at.Add(-time.Second))
	assert.Empty(t, s.Effects())
	s = s.Tick(at)
	assert.Equal(t, Effects{Draw: true, Ring: true}, s.Effects())
	assert.True(t, s.clock.due)
	_, wanted := s.Wake()
	assert.False(t, wanted)
}

func TestALongRestCountsAsAPause(t *testing.T) {
	k := sitting(t, Options{Pause: 20 * time.Minute})
	k.press(15*time.Minute, Char(" "))
	k.press(rested+time.Minute, Char(" "))
	assert.False(t, k.s.clock.due)
	k.press(15*time.Minute, Char(" "))
	assert.False(t, k.s.clock.due)
}

func TestPauseCanBeOff(t *testing.T) {
	k := sitting(t, Options{})
	_, wanted := k.s.Wake()
	assert.False(t, wanted)
	k.press(29*time.Minute, chars("   ")...)
	assert.False(t, k.s.clock.due)
}

func TestLongPausesAreCountedToo(t *testing.T) {
	k := sitting(t, Options{Pause: 60 * time.Minute})
	k.press(40*time.Minute, Char(" "))
	k.press(21*time.Minute, Char(" "))
	assert.True(t, k.s.clock.due)
}
