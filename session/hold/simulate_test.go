package hold

import (
	"errors"
	"regexp"
	"strings"
	"testing"

	"strandwise/floats"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The simulation reads the printed words of each motion, and nothing else of it: what each
// phrase does to the strands stands here once more, written from the phrase alone. A step
// that is dropped, or worded so that it can be read two ways, is not in the list and leads
// nothing past anything; then the strand is loose, held by one leg, or not back in place.
//
// Source: geometry. A closed loop goes round a point as often as it passes it on one side,
// counted with sign. The loop of a leg is closed by the fabric, so only what passes on the
// hands' side, or beneath, counts.
type reading struct {
	phrase *regexp.Regexp
	along  int  // how far the working strand is led past the carried one: +1 up or right
	round  int  // how often it is led round it
	stitch bool // the stitch is made
}

func phrase(text string) *regexp.Regexp { return regexp.MustCompile(`(?i)` + text) }

var readings = []reading{
	// A carried strand that rises inside the working one is passed by that on the outside,
	// downward; one that sinks, upward.
	{phrase: phrase(`^lay CARRIED across the top of the tip, not under it first$`), along: -1, round: -1},
	{phrase: phrase(`^let CARRIED back, so that it lies across WORKING$`), along: 1, round: 1},
	{phrase: phrase(`^hold CARRIED up over the tip$`), along: -1, round: -1},
	{phrase: phrase(`^lower CARRIED again$`), along: 1, round: 1},
	{phrase: phrase(`^hold CARRIED down under the tip$`), along: 1, round: 1},
	{phrase: phrase(`^let CARRIED up again$`), along: -1, round: -1},
	{phrase: phrase(`^wrap CARRIED as if to knit$`), along: 1, round: 1},
	{phrase: phrase(`^unwrap CARRIED the way it came$`), along: -1, round: -1},
	{phrase: phrase(`^lead CARRIED to the left beneath WORKING and hold it above the tip$`), along: -1, round: -1},
	{phrase: phrase(`^lead CARRIED back to the right beneath WORKING$`), along: 1, round: 1},
	{phrase: phrase(`^lead CARRIED to the left over WORKING and hold it below the tip$`), along: 1, round: 1},
	{phrase: phrase(`^lead CARRIED back to the right over WORKING$`), along: -1, round: -1},

	// The tip draws the working strand past the carried one on the hands' side.
	{phrase: phrase(`^dip the tip under CARRIED$`), along: -1, round: -1},
	{phrase: phrase(`^reach under CARRIED for WORKING$`), along: -1, round: -1, stitch: true},
	{phrase: phrase(`^reach over CARRIED for WORKING$`), along: 1, round: 1, stitch: true},
	{phrase: phrase(`^come up between them from beneath WORKING, so that WORKING lies on the tip and the tip over CARRIED$`), along: 1, round: 1},
	{phrase: phrase(`with WORKING from above again: that closes the catch`), along: 1, round: 1},
	{phrase: phrase(`with WORKING from below again: that closes the catch`), along: -1, round: -1},

	// Between two stitches: beneath the other strand is round it, over it is not.
	{phrase: phrase(`^draw WORKING to the right beneath CARRIED$`), along: 1, round: 1},
	{phrase: phrase(`^bring WORKING back to the left over CARRIED$`), along: -1},
	{phrase: phrase(`^draw WORKING to the right over CARRIED$`), along: 1},
	{phrase: phrase(`^bring WORKING back to the left beneath CARRIED$`), along: -1, round: -1},
	{phrase: phrase(`^lead CARRIED leftward across the top of WORKING$`), along: 1, round: 1},
	{phrase: phrase(`^lead CARRIED leftward beneath WORKING$`), along: 1},
	{phrase: phrase(`^bring WORKING up round CARRIED to where it was$`), along: -1},
	{phrase: phrase(`^bring WORKING beneath CARRIED to where it was$`), along: -1, round: -1},

	{phrase: phrase(`^pick WORKING$`), stitch: true},
	{phrase: phrase(`^(work|purl) one stitch with WORKING$`), stitch: true},
	{phrase: phrase(`^wrap WORKING as if to (knit|purl)(, nearer the point)?$`), stitch: true},

	// Faults of old: what these words do, as they were printed.
	{phrase: phrase(`^reach over CARRIED for it$`)},
	{phrase: phrase(`^lead WORKING under CARRIED$`), along: -1},
	{phrase: phrase(`^lead WORKING back over CARRIED$`), along: 1, round: 1},
}

// simulated reads printed steps: how often the loops before and after the stitch go round
// the carried strand, and how far from its place the working strand ends.
func simulated(steps []string, carried, working string) (before, after, away int) {
	leg := &before
	for _, s := range steps {
		s = strings.NewReplacer(carried, "CARRIED", capital(carried), "CARRIED", working, "WORKING", capital(working), "WORKING").Replace(s)
		for _, r := range readings {
			if !r.phrase.MatchString(s) {
				continue
			}
			*leg += r.round
			away += r.along
			if r.stitch {
				leg = &after
			}
		}
	}
	return before, after, away
}

// judged is what a teacher would say of the strands.
func judged(method floats.Method, before, after, away int) error {
	switch {
	case before == 0 && after == 0:
		return errors.New("loose")
	case away != 0:
		return errors.New("not back in its place")
	case method == floats.Weave && (before+after != 0 || before*before != 1):
		return errors.New("held by one leg")
	case method == floats.Twist && (after != 0 || before*before != 1):
		return errors.New("not once round")
	}
	return nil
}

// names are what the steps of a motion call its two strands.
func names(m Motion) (carried, working string) {
	if m.Carry == Rotating || m.Method == floats.Twist {
		return "the carried yarn", "the working yarn"
	}
	return m.Carried.Strand(), m.Working.Strand()
}

// everyMotion calls f with each motion of each hold, carry, level that the knitter may tell,
// side, method and place, for both hands, and what it is.
func everyMotion(t *testing.T, f func(Motion, Hands)) {
	t.Helper()
	n := 0
	for _, h := range Holds() {
		for _, c := range Carries(h) {
			for _, mirror := range []bool{false, true} {
				hands := Hands{Hold: h, Carry: c, Mirror: mirror}
				for _, lower := range append([]Place{NoPlace}, hands.Places()...) {
					hands.Lower = lower
					for _, place := range hands.Places() {
						for _, side := range []Side{KnitSide, PurlSide} {
							for _, method := range Methods() {
								m := hands.Motion(side, method, place)
								f(m, hands)
								n++
							}
						}
					}
				}
			}
		}
	}
	// Source: arithmetic. A parallel hold has 2 hands x 3 tellings x 2 places x 2 sides x 2
	// methods; a rotating carry 2 hands x 2 tellings x 1 place x 4.
	want := 0
	for _, h := range Holds() {
		want += 2 * 3 * 2 * 4
		if len(Carries(h)) > 1 {
			want += 2 * 2 * 4
		}
	}
	require.Equal(t, want, n)
}

func TestEveryPrintedMotionHoldsTheStrand(t *testing.T) {
	everyMotion(t, func(m Motion, h Hands) {
		if h.Mirror {
			m = mirrored(m) // seen in a looking-glass
		}
		carried, working := names(m)
		ways := map[string][]string{"": m.Steps}
		if m.Alternate != nil {
			ways["the other way"] = m.Alternate
		}
		for way, steps := range ways {
			before, after, away := simulated(steps, carried, working)
			require.NoError(t, judged(m.Method, before, after, away), "%+v %s %s of %s %s: %q", h, m.Side, m.Method, m.Carried, way, steps)
		}
		acts, ends := m.Acts, [2]int{}
		ends[0], ends[1], _ = Legs(acts)
		before, after, _ := simulated(m.Steps, carried, working)
		assert.Equal(t, ends, [2]int{before, after}, "what the steps do and what they say: %q", m.Steps)
	})
}

// A motion that loses any of the steps that move a strand, or its stitch, no longer holds,
// or is not done.
func TestNoStepCanBeDropped(t *testing.T) {
	everyMotion(t, func(m Motion, h Hands) {
		if h.Mirror {
			m = mirrored(m)
		}
		for i, act := range m.Acts {
			if len(act.Passes) == 0 && !(act.Stitch && m.Method == floats.Weave) {
				continue
			}
			left := append(append([]string{}, m.Steps[:i]...), m.Steps[i+1:]...)
			carried, working := names(m)
			before, after, away := simulated(left, carried, working)
			assert.Error(t, judged(m.Method, before, after, away), "%q without %q", m.Steps, m.Steps[i])
		}
	})
}

// The faults that were printed once, put back: each fails.
func TestOldFaultsFail(t *testing.T) {
	for _, c := range []struct {
		what   string
		method floats.Method
		steps  []string
		want   string
	}{
		{"a twist of a rotating carry that reaches over", floats.Twist, []string{"After a stitch drop WORKING", "Reach over CARRIED for it", "Go on with WORKING"}, "loose"},
		{"over and back over", floats.Twist, []string{"Draw WORKING to the right over CARRIED", "Bring WORKING back to the left over CARRIED"}, "loose"},
		{"beneath and back beneath", floats.Twist, []string{"Draw WORKING to the right beneath CARRIED", "Bring WORKING back to the left beneath CARRIED"}, "loose"},
		{"a purled twist led beneath and back above", floats.Twist, []string{"Lead CARRIED leftward beneath WORKING", "Bring WORKING up round CARRIED to where it was"}, "loose"},
		{"one at a time, moving the working yarn", floats.Weave, []string{"Lead WORKING under CARRIED", "Work one stitch with WORKING", "Lead WORKING back over CARRIED"}, "held by one leg"},
		{"laid over the tip any way", floats.Weave, []string{"Put the tip into the stitch", "Lay CARRIED over the tip, the opposite way to a knit wrap", "Wrap WORKING as if to knit", "Let CARRIED back, so that it lies across WORKING"}, "not back in its place"},
		{"wrap, wrap, unwrap on the purl side", floats.Weave, []string{"Wrap CARRIED as if to purl", "Wrap WORKING as if to purl", "Unwrap CARRIED the way it came"}, "not back in its place"},
		{"across and back, said of nothing", floats.Weave, []string{"Lay CARRIED across", "Work one stitch with WORKING", "Lay it back across"}, "loose"},
		{"fetched and never let back", floats.Weave, []string{"Dip the tip under CARRIED", "Pick WORKING", "Draw it through"}, "not back in its place"},
	} {
		before, after, away := simulated(c.steps, "CARRIED", "WORKING")
		assert.EqualError(t, judged(c.method, before, after, away), c.want, c.what)
	}
}

// A motion for one level does nothing good for the other: a strand from above is not held by
// being laid across the tip again, where it lies already.
func TestTheMotionFollowsTheLevel(t *testing.T) {
	for _, h := range []Hold{RightOneFinger, RightTwoFingers, LeftOneFinger, LeftTwoFingers} {
		usual := Hands{Hold: h}
		told := Hands{Hold: h, Lower: usual.Places()[1]}
		for _, side := range []Side{KnitSide, PurlSide} {
			for _, place := range usual.Places() {
				a := usual.Motion(side, floats.Weave, place)
				b := told.Motion(side, floats.Weave, place)
				assert.NotEqual(t, a.Level, b.Level)
				assert.NotEqual(t, a.Steps, b.Steps, "%s %s %s", h, side, place)
			}
		}
		assert.Equal(t, told.Places()[0], told.Dominant().Place, "what lies lower is dominant")
	}
}

// Source: common practice and geometry (see the check values of the project): a weave nets
// 0 with legs of +1 and -1; a twist is two crossings of one sign in any carry; in a rotating
// carry a change from under is +1 and the taught twist -2.
func TestCrossings(t *testing.T) {
	everyMotion(t, func(m Motion, _ Hands) {
		switch m.Method {
		case floats.Weave:
			before, after, _ := Legs(m.Acts)
			assert.Zero(t, m.Crossings)
			assert.Equal(t, -1, before*after)
		case floats.Twist:
			assert.Equal(t, -2, m.Crossings, "%q", m.Steps)
			if m.Alternate != nil {
				assert.Equal(t, 2, m.crossings(Other), "%q", m.Alternate)
			}
		}
	})
	var turns Turns
	turns.Use(Rotating, 0)
	turns.Use(Rotating, 1)
	assert.Equal(t, 1, turns.Sum(0, 1))
	twist := Hands{Hold: OneAtATime, Carry: Rotating}.Motion(KnitSide, floats.Twist, SameSide)
	turns.Catch(1, 0, twist, Taught)
	assert.Equal(t, 1-2, turns.Sum(0, 1))
}

// Source: common practice: teachers show the strand running straight through beneath both
// little legs of the stitch.
func TestWhatTheWrongSideShows(t *testing.T) {
	everyMotion(t, func(m Motion, _ Hands) {
		if m.Method == floats.Weave {
			assert.Contains(t, m.WrongSide, "both little legs of the stitch lie over the carried strand")
		} else {
			assert.Contains(t, m.WrongSide, "once right round")
		}
	})
}

func TestUnsoundMotionsAreRefused(t *testing.T) {
	good := Hands{}.Motion(KnitSide, floats.Weave, LeftHand)
	for _, c := range []struct {
		method floats.Method
		acts   []Step
		want   error
	}{
		{floats.Weave, []Step{tipIn, wrapKnit, closing}, errLoose},
		{floats.Weave, []Step{layAcross, wrapNearer, closing}, errOrderLost},
		{floats.Weave, []Step{{Passes: []Pass{{}}}, knitOne, {Passes: []Pass{{Forward: true, Outside: true}}}}, errOneLeg},
		{floats.Twist, []Step{rightOver, leftOver}, errLoose},
		{floats.Twist, []Step{rightBeneath, leftBeneath}, errLoose},
		{floats.Twist, []Step{rightBeneath}, errOrderLost},
	} {
		bad := good
		bad.Method, bad.Acts = c.method, c.acts
		assert.ErrorIs(t, validate(bad), c.want)
	}
	bad := good
	bad.Steps = nil
	assert.ErrorIs(t, validate(bad), errNoSteps)
}

// A stitch worked against its side is caught by the whole twist, with both yarns on the
// wrong side, before the working yarn comes across.
func TestAgainstTheSide(t *testing.T) {
	for side, want := range map[Side][2]string{
		KnitSide: {"Keep both yarns behind the work", "Bring the working yarn to the front and purl the stitch"},
		PurlSide: {"Keep both yarns in front of the work", "Bring the working yarn to the back and knit the stitch"},
	} {
		for _, h := range Holds() {
			hands := Hands{Hold: h}
			m := hands.Motion(side, floats.Twist, hands.Places()[0])
			a := m.AgainstSide()
			assert.Equal(t, want, [2]string{a.Steps[0], a.Steps[len(a.Steps)-1]})
			carried, working := names(a)
			before, after, away := simulated(a.Steps, carried, working)
			assert.NoError(t, judged(floats.Twist, before, after, away))
		}
	}
}
