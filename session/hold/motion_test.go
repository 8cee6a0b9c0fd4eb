package hold

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the files under testdata")

// combination is what a motion is found by.
type combination struct {
	h Hold
	c Carry
	s Side
	m Method
	p Place
}

func (x combination) String() string {
	return fmt.Sprintf("%s, %s, %s, %s, %s", x.h, x.c, x.s, x.m, x.p)
}

func combinations(mirror bool) []combination {
	var list []combination
	for _, h := range Holds() {
		for _, c := range Carries(h) {
			for _, s := range []Side{KnitSide, PurlSide} {
				for _, m := range Methods() {
					for _, p := range Places(h, c, mirror) {
						list = append(list, combination{h, c, s, m, p})
					}
				}
			}
		}
	}
	return list
}

func (x combination) find(t *testing.T, mirror bool) Motion {
	t.Helper()
	m, err := Find(x.h, x.c, x.s, x.m, x.p, mirror)
	require.NoError(t, err, x.String())
	return m
}

// Source: arithmetic. Six holds with two places in the parallel carry and one hold with
// one place in the rotating carry, two sides, two methods: (12 + 1) * 4.
func TestEveryCombinationStandsOnce(t *testing.T) {
	seen := map[combination]int{}
	for _, m := range Motions() {
		seen[combination{m.Hold, m.Carry, m.Side, m.Method, m.Carried}]++
	}
	want := combinations(false)
	assert.Len(t, want, 52)
	assert.Len(t, seen, len(want))
	for _, x := range want {
		assert.Equal(t, 1, seen[x], x.String())
	}
}

func TestEveryMotionIsSound(t *testing.T) {
	for _, m := range Motions() {
		require.NoError(t, m.Validate(), "%s %s %s %s %s", m.Hold, m.Carry, m.Side, m.Method, m.Carried)
	}
}

func TestFindGivesWhatWasAsked(t *testing.T) {
	for _, mirror := range []bool{false, true} {
		for _, x := range combinations(mirror) {
			m := x.find(t, mirror)
			assert.Equal(t, x, combination{m.Hold, m.Carry, m.Side, m.Method, m.Carried})
			assert.Contains(t, Places(x.h, x.c, mirror), m.Working)
			if x.c == Parallel {
				assert.NotEqual(t, m.Carried, m.Working, x.String())
			}
		}
	}
}

func TestFindRefuses(t *testing.T) {
	_, err := Find(TwoHands, Rotating, KnitSide, Twist, LeftHand, false)
	assert.EqualError(t, err, "hold two-hands cannot go with a rotating carry: both yarns stay in the hand in a fixed order, "+
		"so they never turn about each other; use the parallel carry, or hold one-at-a-time")
	_, err = Find(LeftTwoFingers, Parallel, KnitSide, Weave, LeftHand, false)
	assert.EqualError(t, err, `hold left-two-fingers has no place "left hand"; it has left index, left middle`)
	_, err = Find(LeftTwoFingers, Parallel, KnitSide, Weave, LeftIndex, true)
	assert.EqualError(t, err, `hold left-two-fingers has no place "left index"; it has right index, right middle`)
}

// Source: common practice and geometry. A carried strand that is never crossed, or is
// lifted over and put back before a stitch is worked, is held by nothing.
func TestAMotionThatTrapsNothingIsRefused(t *testing.T) {
	good := combination{TwoHands, Parallel, KnitSide, Weave, LeftHand}.find(t, false)
	for name, c := range map[string]Crossings{
		"no crossing":                   {},
		"over and back at once":         {Before: []Sense{Over, Under}},
		"under and back after it":       {After: []Sense{Under, Over}},
		"back at once in both gaps":     {Before: []Sense{Under, Over}, After: []Sense{Over, Under}},
		"there and back, nested double": {Before: []Sense{Under, Under, Over, Over}},
	} {
		bad := good
		bad.Crossings = c
		require.ErrorIs(t, bad.Validate(), ErrTrapsNothing, name)
		_, err := pick([]Motion{bad}, TwoHands, Parallel, KnitSide, Weave, LeftHand)
		require.ErrorIs(t, err, ErrTrapsNothing, name)
	}
}

func TestUnsoundMotionsAreRefused(t *testing.T) {
	weave := combination{TwoHands, Parallel, KnitSide, Weave, LeftHand}.find(t, false)
	twist := combination{TwoHands, Parallel, KnitSide, Twist, LeftHand}.find(t, false)
	rotating := combination{OneAtATime, Rotating, KnitSide, Twist, SameSide}.find(t, false)
	with := func(m Motion, c Crossings) Motion { m.Crossings = c; return m }
	noSteps, oneSense := weave, twist
	noSteps.Steps, oneSense.Alternate = nil, nil

	assert.ErrorIs(t, with(weave, Crossings{[]Sense{Under}, []Sense{Under}}).Validate(), ErrWeaveTurns)
	assert.ErrorIs(t, with(twist, Crossings{Before: []Sense{Under}}).Validate(), ErrOrderLost)
	assert.ErrorIs(t, with(twist, Crossings{Before: []Sense{Under}, After: []Sense{Under}}).Validate(), ErrTwistCount)
	assert.ErrorIs(t, with(rotating, Crossings{Before: []Sense{Under, Under}}).Validate(), ErrTwistCount)
	assert.ErrorIs(t, noSteps.Validate(), ErrNoSteps)
	assert.ErrorIs(t, oneSense.Validate(), ErrNoSteps)
}

// Source: common practice; teachers describe the catch itself, not these sentences.
func TestEveryWeaveEndsWithTheNextStitch(t *testing.T) {
	for _, m := range Motions() {
		last := m.Steps[len(m.Steps)-1]
		assert.Equal(t, m.Method == Weave, strings.Contains(last, "closes the catch"), last)
		if m.Method == Weave {
			assert.Regexp(t, `next stitch`, last)
		}
	}
}

func TestStepsAreShort(t *testing.T) {
	for _, m := range Motions() {
		assert.LessOrEqual(t, len(m.Short), 70, m.Short)
		assert.GreaterOrEqual(t, len(m.Steps), 2)
		for _, step := range append(append([]string{}, m.Steps...), m.Alternate...) {
			assert.LessOrEqual(t, len(step), 110, step)
			assert.Regexp(t, `^[A-Z].*[^.]$`, step)
		}
	}
}

func TestDerivedMotionsNameThePracticeChart(t *testing.T) {
	derived := 0
	for _, m := range Motions() {
		if m.Attested == Derived {
			derived++
			assert.Contains(t, m.Caution(), PracticeChart)
			continue
		}
		assert.Empty(t, m.Caution())
	}
	assert.NotZero(t, derived)
}

// Source: common practice, as marked: which motions are taught and which are worked out
// from the rule.
func TestAttestation(t *testing.T) {
	tests := []struct {
		h    Hold
		c    Carry
		s    Side
		m    Method
		p    Place
		want Attested
	}{
		{TwoHands, Parallel, KnitSide, Weave, LeftHand, Wide},
		{TwoHands, Parallel, KnitSide, Weave, RightHand, Wide},
		{LeftOneFinger, Parallel, KnitSide, Weave, LowerStrand, Some},
		{LeftTwoFingers, Parallel, KnitSide, Weave, LeftMiddle, Some},
		{RightTwoFingers, Parallel, KnitSide, Weave, RightIndex, Some},
		{RightOneFinger, Parallel, KnitSide, Weave, NearStrand, Derived},
		{RightOneFinger, Parallel, KnitSide, Weave, FarStrand, Derived},
		{OneAtATime, Parallel, KnitSide, Weave, FromAbove, Some},
		{OneAtATime, Rotating, KnitSide, Twist, SameSide, Wide},
		{TwoHands, Parallel, KnitSide, Twist, LeftHand, Wide},
		{TwoHands, Parallel, PurlSide, Weave, LeftHand, Some},
		{LeftOneFinger, Parallel, PurlSide, Weave, UpperStrand, Derived},
		{RightTwoFingers, Parallel, PurlSide, Weave, RightMiddle, Derived},
		{OneAtATime, Rotating, PurlSide, Weave, SameSide, Wide},
		{OneAtATime, Rotating, PurlSide, Twist, SameSide, Some},
	}
	for _, tc := range tests {
		x := combination{tc.h, tc.c, tc.s, tc.m, tc.p}
		assert.Equal(t, tc.want, x.find(t, false).Attested, x.String())
	}
}

func TestStepsNameTheStrandsOfTheirHold(t *testing.T) {
	for _, m := range Motions() {
		if m.Method == Twist || m.Hold == OneAtATime {
			continue
		}
		text := strings.ToLower(strings.Join(m.Steps, ". "))
		assert.Contains(t, text, strings.TrimPrefix(m.Working.Strand(), "the "), m.Short)
	}
}

func TestMotionsAreAsRead(t *testing.T) {
	var text strings.Builder
	text.WriteString("Written by the tests of this package: every motion, as a knitter reads it.\n")
	for _, m := range Motions() {
		fmt.Fprintf(&text, "\n%s, %s: %s on the %s, carried %s (%s)\n", m.Hold, m.Carry, m.Method, m.Side, m.Carried, m.Attested)
		for i, step := range m.Steps {
			fmt.Fprintf(&text, "  %d. %s.\n", i+1, step)
		}
		fmt.Fprintf(&text, "  short: %s\n", m.Short)
		if m.Method == Twist {
			fmt.Fprintf(&text, "  next time: %s\n", m.AlternateShort)
		}
		if m.Note != "" {
			fmt.Fprintf(&text, "  %s\n", m.Note)
		}
	}
	path := filepath.Join("testdata", "motions.golden")
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(text.String()), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), text.String())
}
