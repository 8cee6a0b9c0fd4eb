package hold

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// texts are all sentences of a motion.
func (m Motion) texts() []string {
	list := append([]string{m.Short, m.In(Other).Short, m.Note}, m.Steps...)
	return append(list, m.In(Other).Steps...)
}

// mirrored is the motion as a knitter makes it who works the other way.
func mirrored(m Motion) Motion {
	lower := m.Carried
	if m.Level == Above {
		lower = m.Working
	}
	return Hands{m.Hold, m.Carry, !m.Mirrored, lower.Mirror()}.Motion(m.Side, m.Method, m.Carried.Mirror())
}

// Source: geometry. A mirror swaps the sides of the body; above, below, over and under
// stay.
func TestMirrorSwapsLeftAndRightAndNothingElse(t *testing.T) {
	for _, m := range Motions(false) {
		got := mirrored(m)
		assert.Equal(t, m, mirrored(got))
		for i, text := range m.texts() {
			assertSwapped(t, text, got.texts()[i])
		}
		same := got
		same.Carried, same.Working = m.Carried, m.Working
		same.Making, same.Alternate, same.AlternateShort, same.Note = m.Making, m.Alternate, m.AlternateShort, m.Note
		assert.True(t, got.Mirrored)
		same.Mirrored = false
		assert.Equal(t, m, same)
	}
}

func assertSwapped(t *testing.T, was, is string) {
	t.Helper()
	before, after := strings.Fields(was), strings.Fields(is)
	assert.Len(t, after, len(before))
	for i := range before {
		if sideWord.MatchString(before[i]) {
			assert.NotEqual(t, before[i], after[i])
			assert.Equal(t, before[i], swapSides(after[i]))
			continue
		}
		assert.Equal(t, before[i], after[i])
	}
}

// The words left and right may stand for sides only, or the mirror would spoil a
// sentence: "the right side of the fabric", "all right", "the stitches left".
func TestLeftAndRightMeanSidesOnly(t *testing.T) {
	sense := regexp.MustCompile(`\b([Ll]eft|[Rr]ight)(ward\b|-hand\b| (yarn|hand|index|middle)\b)|to the (left|right)\b`)
	brief := regexp.MustCompile(`\b(left|right)( (over|beneath|up|through)\b|,|$)`)
	for _, m := range Motions(false) {
		for _, text := range m.texts() {
			rest := brief.ReplaceAllString(sense.ReplaceAllString(text, ""), "")
			assert.NotRegexp(t, `(?i)\b(left|right)`, rest, text)
			assert.NotRegexp(t, `(draw|put|go) (left|right) through`, text, "reads as all the way through")
		}
	}
	for _, h := range Holds() {
		assert.NotRegexp(t, `(?i)\b(left|right)`, sense.ReplaceAllString(h.Describe(false), ""))
	}
}

func TestSwapSides(t *testing.T) {
	for was, want := range map[string]string{
		"the left yarn, then the right": "the right yarn, then the left",
		"leftward; right-hand":          "rightward; left-hand",
		"Left over":                     "Right over",
		"upright, bright, lefts":        "upright, bright, lefts",
	} {
		assert.Equal(t, want, swapSides(was))
		assert.Equal(t, was, swapSides(want))
	}
}

func TestMirrorPlaces(t *testing.T) {
	for _, h := range Holds() {
		for _, c := range Carries(h) {
			mirror := Hands{Hold: h, Carry: c, Mirror: true}.Places()
			for i, p := range (Hands{Hold: h, Carry: c}).Places() {
				assert.Equal(t, p, p.Mirror().Mirror())
				assert.Equal(t, p.Mirror(), mirror[i])
				assertSwapped(t, p.String(), mirror[i].String())
				assertSwapped(t, p.Phrase(false), mirror[i].Phrase(true))
				assertSwapped(t, p.Strand(), mirror[i].Strand())
			}
		}
		assertSwapped(t, h.Describe(false), h.Describe(true))
	}
}

func TestPlacesAreInOneOrder(t *testing.T) {
	assert.Equal(t, []Place{LeftHand, RightHand}, Hands{}.Places())
	assert.Equal(t, []Place{RightHand, LeftHand}, Hands{Mirror: true}.Places())
	assert.Equal(t, []Place{SameSide}, Hands{Hold: OneAtATime, Carry: Rotating}.Places())
	assert.Empty(t, Hands{Hold: RightOneFinger, Carry: Rotating}.Places())
}

func TestPlacesAreNotShared(t *testing.T) {
	Hands{}.Places()[0] = FromAbove
	assert.Equal(t, LeftHand, Hands{}.Places()[0])
	assert.Equal(t, []Place{RightHand, LeftHand}, Hands{Lower: RightHand}.Places(), "what comes from below comes first")
	Motions(false)[0].Steps[0] = "spoilt"
	assert.NotEqual(t, "spoilt", Motions(false)[0].Steps[0])
}
