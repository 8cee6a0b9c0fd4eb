package hold

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/floats"
)

// Level is where a strand comes from while a row is worked: the motion of a catch follows
// the level of the strand that is caught, not the finger it lies on.
type Level uint8

// The levels.
const (
	Below Level = iota // its stitches stand out: it is dominant
	Above
)

// String is "below" or "above".
func (l Level) String() string { return [...]string{"below", "above"}[l] }

// MarshalText is the level as answers to programs name it.
func (l Level) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// Way is the sense in which a twist goes round.
type Way uint8

// The ways. A twist in the taught way leaves two crossings of -1 in work in the round with
// the right side facing, one in the other way two of +1; a change of yarn from under is +1.
const (
	Taught Way = iota
	Other
)

// motionRow is one motion of a hold in its file. Where a twist has steps for the other way
// too, they serve to take turns out of a parallel carry.
type motionRow struct {
	side     Side
	method   floats.Method
	level    Level // of the carried strand; a twist is made alike at both
	steps    []Step
	short    string
	other    []Step
	attested Attested
	note     string
}

// Making is how a motion is made, one way round: its acts in order, with what they do to the strands, the same
// in words, and a few words for a knitter who knows the motion.
type Making struct {
	Acts  []Step   `json:"-"`
	Steps []string `json:"steps"`
	Short string   `json:"short"`
}

// Motion is the hand motion of one catch. Carried and Working are where the yarn that is caught and that of the
// stitch sit, SameSide for both when rotating. Making is the taught way; some twists of a parallel carry have the
// other way round, Alternate. Crossings are those the taught way leaves.
type Motion struct {
	Hold    Hold          `json:"hold"`
	Carry   Carry         `json:"carry"`
	Side    Side          `json:"side"`
	Method  floats.Method `json:"method"`
	Carried Place         `json:"carried"`
	Working Place         `json:"working"`
	Making
	Alternate      []string `json:"alternate"`
	AlternateShort string   `json:"alternate_short"`
	Level          Level    `json:"level"` // of the yarn that is caught: below or above
	Crossings      int      `json:"crossings"`
	Attested       Attested `json:"attested"`
	Note           string   `json:"note"`
	Caution        string   `json:"caution"`
	WrongSide      string   `json:"wrong_side"`

	Mirrored bool `json:"-"` // made from the right needle to the left
	Against  bool `json:"-"` // the stitch is worked against its side: see AgainstSide

	otherActs []Step
}

// PracticeChart is the chart among the examples to try a motion on.
const PracticeChart = "example:practice"

// DerivedCaution stands beside every motion that is worked out.
const DerivedCaution = "Worked out from the rule: try it on a swatch. " +
	"The chart " + PracticeChart + " has spans of 7 and 9 stitches for it."

// How to check a catch on the wrong side.
var wrongSides = [...]string{
	floats.Weave: "On the wrong side both little legs of the stitch lie over the carried strand, which runs straight through beneath them.",
	floats.Twist: "On the wrong side the working strand goes once right round the carried one, between two stitches.",
}

// In is the motion in a way round. One with a single way has that.
func (m Motion) In(w Way) Making {
	if w == Other && m.Alternate != nil {
		return Making{m.otherActs, m.Alternate, m.AlternateShort}
	}
	return m.Making
}

// crossings is the net number of crossings the motion leaves, with sign: 0 for a weave, two of one sign
// for a twist, since a loop that goes once round a strand crosses it twice the same way.
func (m Motion) crossings(w Way) int {
	before, after, _ := Legs(m.In(w).Acts)
	return -crossingsPerTurn * (before + after)
}

// Motions lists every motion of every hold and carry, of a knitter whose strands lie as is usual.
func Motions(mirror bool) []Motion {
	var list []Motion
	for _, h := range Holds() {
		for _, c := range Carries(h) {
			list = append(list, Hands{Hold: h, Carry: c, Mirror: mirror}.Motions()...)
		}
	}
	return list
}

// Motions lists every motion of these hands, in the order of Motions.
func (h Hands) Motions() []Motion {
	var list []Motion
	for _, r := range all[h.Hold].motions {
		for _, place := range h.Places() {
			if r.catches(h.level(place)) {
				list = append(list, h.Motion(r.side, r.method, place))
			}
		}
	}
	return list
}

// catches reports whether the motion catches a strand of a level.
func (r motionRow) catches(l Level) bool { return r.method == floats.Twist || r.level == l }

func (h Hands) made(r motionRow, carried Place) Motion {
	places := h.Places()
	working := places[0]
	if working == carried {
		working = places[len(places)-1]
	}
	own, other := carried.Strand(), working.Strand()
	if h.Carry == Rotating || r.method == floats.Twist {
		own, other = "the carried yarn", "the working yarn"
	}
	m := Motion{
		Hold: h.Hold, Carry: h.Carry, Side: r.side, Method: r.method, Carried: carried, Working: working,
		Making: h.making(r.steps, r.short, own, other), Level: h.level(carried), Attested: r.attested,
		Note: mirrorIf(h.Mirror, r.note), WrongSide: wrongSides[r.method], Mirrored: h.Mirror,
	}
	if r.other != nil && h.Carry == Parallel {
		way := h.making(r.other, otherShort, own, other)
		m.otherActs, m.Alternate, m.AlternateShort = way.Acts, way.Steps, way.Short
	}
	if r.attested == Derived {
		m.Caution = DerivedCaution
	}
	m.Crossings = m.crossings(Taught)
	return m
}

// making is written for a knitter who works from the left needle to the right. Only its words are mirrored: the
// strands are called by where they really sit.
func (h Hands) making(acts []Step, short, carried, working string) Making {
	say := func(words, carried, working string) string { return named(mirrorIf(h.Mirror, words), carried, working) }
	m := Making{Acts: acts, Short: say(short, strings.TrimPrefix(carried, "the "), strings.TrimPrefix(working, "the "))}
	for _, s := range acts {
		m.Steps = append(m.Steps, capital(say(s.Words, carried, working)))
	}
	return m
}

// Motion returns the motion that catches a yarn carried in the given place, which is one of these hands'.
func (h Hands) Motion(s Side, method floats.Method, carried Place) Motion {
	for _, r := range all[h.Hold].motions {
		if slices.Contains(h.Places(), carried) && r.side == s && r.method == method && r.catches(h.level(carried)) {
			return h.made(r, carried)
		}
	}
	panic(fmt.Sprintf("hold: no motion for %s %s, %s, %s of %s: every combination stands once", h.Carry, h.Hold, s, method, carried))
}

// AgainstSide is the twist for a stitch that is worked against its side, a purl on a right-side row or a
// knit on a wrong-side row: it is made on the wrong side of the work, before the working yarn comes across.
// Common practice; a weave there would bring the carried strand to the right side.
func (m Motion) AgainstSide() Motion {
	first, last := "Keep both yarns behind the work", "Bring the working yarn to the front and purl the stitch"
	if m.Side == PurlSide {
		first, last = "Keep both yarns in front of the work", "Bring the working yarn to the back and knit the stitch"
	}
	m.Against = true
	m.Steps = append([]string{first}, append(slices.Clone(m.Steps[:len(m.Steps)-1]), last)...)
	m.Short += "; then bring the working yarn across"
	m.Alternate, m.AlternateShort, m.otherActs = nil, "", nil
	return m
}
