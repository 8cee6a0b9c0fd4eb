package hold

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strandwise/floats"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the files under testdata")

// combination is what a motion is found by.
type combination struct {
	h Hold
	c Carry
	s Side
	m floats.Method
	p Place
}

// What is wrong with a motion.
var (
	errLoose     = errors.New("the working strand does not go round the carried one: the motion traps nothing")
	errOneLeg    = errors.New("one leg of the stitch goes round the carried strand, the other does not: that is a twist round a stitch")
	errOrderLost = errors.New("the strands do not come back to their order")
	errNoSteps   = errors.New("a motion needs its steps and its short form")
)

// validate reports a motion that does not hold the carried strand as its method is to: a
// weave by both legs of the stitch in opposite senses, a twist by one bar, once.
func validate(m Motion) error {
	if len(m.Steps) == 0 || m.Short == "" || m.In(Other).Short == "" {
		return errNoSteps
	}
	for _, acts := range [][]Step{m.Acts, m.In(Other).Acts} {
		if len(acts) == 0 {
			continue
		}
		if err := holds(m.Method, acts); err != nil {
			return err
		}
	}
	return nil
}

func holds(method floats.Method, acts []Step) error {
	before, after, away := Legs(acts)
	switch {
	case before == 0 && after == 0:
		return errLoose
	case away != 0:
		return errOrderLost
	case method == floats.Weave && (before*after != -1):
		return errOneLeg
	case method == floats.Twist && (after != 0 || before*before != 1):
		return errOneLeg
	}
	return nil
}

// Source: arithmetic. A hold has two places in the parallel carry and one in a rotating one,
// two sides and two methods.
func TestEveryCombinationStandsOnce(t *testing.T) {
	seen := map[combination]int{}
	for _, m := range Motions(false) {
		seen[combination{m.Hold, m.Carry, m.Side, m.Method, m.Carried}]++
		require.NoError(t, validate(m))
	}
	want := 0
	for _, h := range Holds() {
		for _, c := range Carries(h) {
			want += 4 * len(Hands{Hold: h, Carry: c}.Places())
		}
	}
	assert.Len(t, seen, want)
	for x, n := range seen {
		assert.Equal(t, 1, n, "%+v", x)
	}
}

// A new hold is a file with its row in all. What it lacks is named with its word.
func TestEveryHoldIsWhole(t *testing.T) {
	for _, h := range Holds() {
		x := all[h]
		require.NotNil(t, x, "session/hold/hold.go: a hold has no row in all")
		assert.NotEmpty(t, x.word)
		assert.NotEmpty(t, x.phrase, "the file of hold %s: its phrase", x.word)
		assert.NotEqual(t, NoPlace, x.places[0], "the file of hold %s: its places", x.word)
		assert.NotEqual(t, x.places[0], x.places[1], "the file of hold %s: its places", x.word)
		for _, c := range Carries(h) {
			for _, side := range []Side{KnitSide, PurlSide} {
				for _, method := range Methods() {
					for _, p := range (Hands{Hold: h, Carry: c}).Places() {
						assert.NotPanics(t, func() {
							assert.NoError(t, validate(Hands{Hold: h, Carry: c}.Motion(side, method, p)), "the file of hold %s: %s, %s, %s of %s", x.word, c, side, method, p)
						}, "the file of hold %s lacks a motion: %s, %s, %s of %s", x.word, c, side, method, p)
					}
				}
			}
		}
	}
}

func TestMotionsOfOtherHands(t *testing.T) {
	assert.Panics(t, func() { Hands{Hold: TwoHands, Carry: Rotating}.Motion(KnitSide, floats.Twist, LeftHand) })
	assert.Panics(t, func() { Hands{Hold: LeftTwoFingers}.Motion(KnitSide, floats.Weave, LeftHand) })
	assert.Panics(t, func() { Hands{Hold: LeftTwoFingers, Mirror: true}.Motion(KnitSide, floats.Weave, LeftIndex) })
	assert.EqualError(t, CheckCarry(TwoHands, Rotating), "hold two-hands cannot go with a rotating carry: both yarns stay in the hand in a fixed order, "+
		"so they never turn about each other; use the parallel carry, or hold one-at-a-time")
}

// Source: common practice; teachers describe the catch itself, not these sentences.
func TestEveryWeaveEndsWithTheNextStitch(t *testing.T) {
	for _, m := range Motions(false) {
		last := m.Steps[len(m.Steps)-1]
		assert.Equal(t, m.Method == floats.Weave, strings.Contains(last, "closes the catch"), last)
	}
}

func TestStepsAreShort(t *testing.T) {
	for _, m := range Motions(false) {
		assert.LessOrEqual(t, len(m.Short), 100, m.Short)
		assert.GreaterOrEqual(t, len(m.Steps), 2)
		for _, step := range append(append([]string{}, m.Steps...), m.In(Other).Steps...) {
			assert.LessOrEqual(t, len(step), 130, step)
			assert.Regexp(t, `^[A-Z].*[^.]$`, step)
		}
	}
}

func TestDerivedMotionsNameThePracticeChart(t *testing.T) {
	derived := 0
	for _, m := range Motions(false) {
		if m.Attested == Derived {
			derived++
			assert.Contains(t, m.Caution, PracticeChart)
			continue
		}
		assert.Empty(t, m.Caution)
	}
	assert.NotZero(t, derived)
}

// Source: common practice, as marked in the project's table of motions.
func TestAttestation(t *testing.T) {
	tests := []struct {
		h    Hold
		c    Carry
		s    Side
		m    floats.Method
		p    Place
		want Attested
	}{
		{TwoHands, Parallel, KnitSide, floats.Weave, LeftHand, Wide},
		{TwoHands, Parallel, KnitSide, floats.Weave, RightHand, Wide},
		{LeftOneFinger, Parallel, KnitSide, floats.Weave, LowerStrand, Some},
		{LeftOneFinger, Parallel, KnitSide, floats.Weave, UpperStrand, Some},
		{LeftTwoFingers, Parallel, KnitSide, floats.Weave, LeftMiddle, Some},
		{LeftTwoFingers, Parallel, KnitSide, floats.Weave, LeftIndex, Some},
		{RightTwoFingers, Parallel, KnitSide, floats.Weave, RightIndex, Some},
		{RightOneFinger, Parallel, KnitSide, floats.Weave, NearStrand, Some},
		{OneAtATime, Parallel, KnitSide, floats.Weave, FromBelow, Some},
		{OneAtATime, Parallel, KnitSide, floats.Weave, FromAbove, Derived},
		{OneAtATime, Parallel, KnitSide, floats.Twist, FromBelow, Wide},
		{OneAtATime, Rotating, KnitSide, floats.Twist, SameSide, Wide},
		{TwoHands, Parallel, KnitSide, floats.Twist, LeftHand, Some},
		{LeftOneFinger, Parallel, KnitSide, floats.Twist, UpperStrand, Some},
		{TwoHands, Parallel, PurlSide, floats.Weave, LeftHand, Some},
		{TwoHands, Parallel, PurlSide, floats.Weave, RightHand, Derived},
		{LeftOneFinger, Parallel, PurlSide, floats.Weave, UpperStrand, Derived},
		{RightTwoFingers, Parallel, PurlSide, floats.Weave, RightMiddle, Derived},
		{OneAtATime, Parallel, PurlSide, floats.Weave, FromAbove, Some},
		{OneAtATime, Rotating, PurlSide, floats.Twist, SameSide, Some},
	}
	for _, tc := range tests {
		m := Hands{Hold: tc.h, Carry: tc.c}.Motion(tc.s, tc.m, tc.p)
		assert.Equal(t, tc.want, m.Attested, "%s %s %s %s %s", tc.h, tc.c, tc.s, tc.m, tc.p)
	}
}

func TestMotionsAreAsRead(t *testing.T) {
	var text strings.Builder
	text.WriteString("Written by the tests of this package: every motion, as a knitter reads it.\n")
	for _, m := range Motions(false) {
		fmt.Fprintf(&text, "\n%s, %s: %s on the %s, carried %s (%s)\n", m.Hold, m.Carry, m.Method, m.Side, m.Carried, m.Attested)
		for i, step := range m.Steps {
			fmt.Fprintf(&text, "  %d. %s.\n", i+1, step)
		}
		fmt.Fprintf(&text, "  short: %s\n", m.Short)
		if m.Alternate != nil {
			fmt.Fprintf(&text, "  the other way: %s\n", m.AlternateShort)
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
