package hold

import (
	"testing"

	"strandwise/floats"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryHoldHasItsRow(t *testing.T) {
	for h := range holdCount {
		if all[h] == nil {
			t.Fatalf("hold.go, all: constant %d has no row", h)
		}
	}
}

func TestWordsAreReadBack(t *testing.T) {
	for _, h := range Holds() {
		assert.Equal(t, h, ParseHold(h.String()))
	}
	for _, c := range []Carry{Parallel, Rotating} {
		assert.Equal(t, c, ParseCarry(c.String()))
	}
	assert.Equal(t, TwoHands, ParseHold("two-hand"))
	assert.Equal(t, Parallel, ParseCarry(""))
}

func TestUnknownPlacesNameTheChoices(t *testing.T) {
	_, err := Hands{}.ParsePlace("upper strand")
	assert.Equal(t, &PlaceError{"upper strand", []string{"left-hand", "right-hand"}}, err)
	assert.EqualError(t, err, `there is no place "upper strand"; choose one of left-hand, right-hand`)
}

// Source: geometry. Strands that stay in the hand in a fixed order cannot turn about each
// other.
func TestOnlyOneAtATimeRotates(t *testing.T) {
	for _, h := range Holds() {
		require.NoError(t, CheckCarry(h, Parallel))
		err := CheckCarry(h, Rotating)
		if h == OneAtATime {
			require.NoError(t, err)
			continue
		}
		var carry *CarryError
		require.ErrorAs(t, err, &carry)
		assert.Equal(t, h, carry.Hold)
	}
	assert.ErrorContains(t, CheckCarry(LeftOneFinger, Carry(9)), "left-one-finger")
}

// Source: common practice; the sureness is that of the teachers.
func TestDominance(t *testing.T) {
	tests := []struct {
		h      Hold
		c      Carry
		mirror bool
		known  bool
		place  Place
		sure   Attested
	}{
		{TwoHands, Parallel, false, true, LeftHand, Wide},
		{TwoHands, Parallel, true, true, RightHand, Derived},
		{LeftOneFinger, Parallel, false, true, LowerStrand, Differ},
		{LeftOneFinger, Parallel, true, true, LowerStrand, Differ},
		{LeftTwoFingers, Parallel, false, true, LeftIndex, Derived},
		{LeftTwoFingers, Parallel, true, true, RightIndex, Derived},
		{RightTwoFingers, Parallel, false, true, RightIndex, Differ},
		{RightOneFinger, Parallel, false, true, FarStrand, Differ},
		{OneAtATime, Parallel, false, true, FromBelow, Wide},
		{OneAtATime, Parallel, true, true, FromBelow, Wide},
		{OneAtATime, Rotating, false, false, 0, Derived},
	}
	for _, tc := range tests {
		h := Hands{Hold: tc.h, Carry: tc.c, Mirror: tc.mirror}
		d := h.Dominant()
		assert.Equal(t, tc.known, d.Known, "%s %s", tc.h, tc.c)
		assert.Equal(t, tc.sure, d.Sure, "%s %s", tc.h, tc.c)
		assert.Equal(t, tc.sure == Wide, d.Advice == "", "%s %s", tc.h, tc.c)
		if tc.known {
			assert.Equal(t, tc.place, d.Place, "%s %s", tc.h, tc.c)
			assert.Equal(t, d.Place, h.Places()[0], "the dominant place is listed first")
		}
	}
}

// Source: common practice.
func TestRecommend(t *testing.T) {
	for _, h := range Holds() {
		for _, c := range Carries(h) {
			want := floats.Weave
			if c == Rotating {
				want = floats.Twist
			}
			advice := Recommend(h, c)
			assert.Equal(t, want, advice.Method, "%s %s", h, c)
			assert.NotEmpty(t, advice.Reason)
		}
	}
}

// sentences are all texts the package can print.
func sentences() []string {
	list := []string{
		Rule, Closing, LoopInFront, Flecks, Slack, Contrast, FarOver, EasiestToLearn, KeepDominant, CheckDominant,
		ThirdYarn, ChangeShows, MirrorHolds, RotatingSide, LookAtSwatch, DerivedCaution,
		Tangle{0, 1, 20}.Untangle("oat", "fjord"), Tangle{0, 1, 1}.Untangle("oat", "fjord"),
		(&CarryError{TwoHands}).Error(),
	}
	for _, m := range Motions(false) {
		list = append(list, append(m.texts(), m.WrongSide)...)
		list = append(list, mirrored(m).texts()...)
	}
	for _, h := range Holds() {
		list = append(list, h.String(), h.Describe(false), h.Describe(true))
		for _, c := range Carries(h) {
			list = append(list, Recommend(h, c).Reason, Hands{Hold: h, Carry: c}.Dominant().Advice)
			for _, p := range (Hands{Hold: h, Carry: c}).Places() {
				list = append(list, p.String(), p.Phrase(false), p.Strand())
			}
		}
	}
	for a := Wide; a <= Differ; a++ {
		list = append(list, a.String())
	}
	return list
}

// Source: common practice. Two teachers call one wrap by opposite clock words, so none is
// used; and no promise is made that a garment cannot keep.
func TestNoClockWordsAndNoPromises(t *testing.T) {
	for _, text := range sentences() {
		assert.NotRegexp(t, `(?i)clock|\bcw\b|\bccw\b|\bsafe|compl(y|ies)|certif`, text)
	}
}
