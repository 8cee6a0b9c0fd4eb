package hold

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Source: common practice and geometry. One weave leaves nothing between the strands, a
// twist half a turn in a rotating carry and a whole one in a parallel carry.
func TestNetCrossings(t *testing.T) {
	for _, m := range Motions() {
		want := 0
		if m.Method == Twist {
			want = map[Carry]int{Parallel: 2, Rotating: 1}[m.Carry]
		}
		assert.Equal(t, want, m.Crossings.Net(), "%s %s %s", m.Hold, m.Carry, m.Method)
		assert.Equal(t, -want, m.Crossings.Reverse().Net())
	}
}

// Source: geometry. An odd number of crossings exchanges two strands.
func TestParallelMotionsAreEven(t *testing.T) {
	for _, m := range Motions() {
		if m.Carry == Parallel {
			assert.Zero(t, m.Crossings.Count()%2, "%s %s", m.Hold, m.Method)
		}
	}
}

// Source: common practice, the rule behind every weave: a strand carried below is
// crossed from under first, one carried above from over.
func TestWeavesFollowTheRule(t *testing.T) {
	for _, tc := range []struct {
		h     Hold
		p     Place
		first Sense
	}{
		{TwoHands, LeftHand, Under},
		{TwoHands, RightHand, Over},
		{LeftOneFinger, LowerStrand, Under},
		{LeftOneFinger, UpperStrand, Over},
		{LeftTwoFingers, LeftIndex, Under},
		{LeftTwoFingers, LeftMiddle, Over},
		{OneAtATime, FromBelow, Under},
		{OneAtATime, FromAbove, Over},
	} {
		m := combination{tc.h, Parallel, KnitSide, Weave, tc.p}.find(t, false)
		assert.Equal(t, []Sense{tc.first}, m.Crossings.Before, "%s %s", tc.h, tc.p)
		assert.Equal(t, []Sense{-tc.first}, m.Crossings.After, "%s %s", tc.h, tc.p)
	}
}

// Source: common practice. A woven strand lies over the working strand on one side of the
// caught stitch and under it on the other; a parallel twist goes all the way round; a
// rotating one crosses once.
func TestTheWrongSideCheckFollowsFromTheCrossings(t *testing.T) {
	for _, m := range Motions() {
		switch {
		case m.Method == Weave:
			assert.Equal(t, lookWoven, m.WrongSide())
			assert.Contains(t, m.WrongSide(), "over the working strand on one side of the caught stitch and under it on the other")
		case m.Carry == Rotating:
			assert.Equal(t, lookHalf, m.WrongSide())
		default:
			assert.Equal(t, lookTurn, m.WrongSide())
		}
		for _, s := range []Sense{Under, Over} {
			assert.Equal(t, m.WrongSide(), m.CrossingsFor(s).WrongSide())
		}
	}
}

// Source: geometry.
func TestLooksOfOtherCrossings(t *testing.T) {
	tests := map[string]struct {
		c    Crossings
		want string
	}{
		"none":                   {Crossings{}, lookLoose},
		"lifted and put back":    {Crossings{Before: []Sense{Under, Over}}, lookLoose},
		"same way on both sides": {Crossings{Before: []Sense{Under}, After: []Sense{Under}}, lookOther},
		"once after the stitch":  {Crossings{After: []Sense{Over}}, lookHalf},
		"two turns":              {Crossings{Before: []Sense{Under, Under, Under, Under}}, lookOther},
	}
	for name, tc := range tests {
		assert.Equal(t, tc.want, tc.c.WrongSide(), name)
	}
}

// Source: geometry. Twisted all the way round, a strand shows over and under by turns;
// lifted over and put back, the same strand stays on top.
func TestOversInOneGap(t *testing.T) {
	before, after := Crossings{Before: []Sense{Under, Under, Under}}.overs()
	assert.Equal(t, []bool{true, false, true}, before)
	assert.Empty(t, after)
	before, _ = Crossings{Before: []Sense{Under, Over}}.overs()
	assert.Equal(t, []bool{true, true}, before)
	_, after = Crossings{After: []Sense{Over, Over}}.overs()
	assert.Equal(t, []bool{true, false}, after)
}

// Source: arithmetic. What a gap holds is its net sum, since only neighbours of opposite
// sense cancel and there are two senses.
func TestReduceLeavesTheNetSum(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		gap := rapid.SliceOf(rapid.SampledFrom([]Sense{Under, Over})).Draw(rt, "gap")
		net := Crossings{Before: gap}.Net()
		assert.Len(rt, reduce(gap), max(net, -net))
		assert.Equal(rt, net != 0, Crossings{Before: gap}.Traps())
	})
}

func TestSensesOfATwistDifferInTheirWords(t *testing.T) {
	for _, m := range Motions() {
		if m.Method == Weave {
			assert.Equal(t, m.Steps, m.StepsFor(Over))
			assert.Equal(t, m.Short, m.ShortFor(Over))
			assert.Equal(t, m.Crossings, m.CrossingsFor(Over))
			continue
		}
		assert.NotEqual(t, m.StepsFor(Under), m.StepsFor(Over))
		assert.NotEqual(t, m.ShortFor(Under), m.ShortFor(Over))
		assert.Equal(t, Over, m.CrossingsFor(Over).Before[0])
		assert.Equal(t, Under, m.CrossingsFor(Under).Before[0])
	}
}
