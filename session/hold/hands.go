package hold

import "slices"

// Attested tells how well something is established among those who teach it.
type Attested uint8

// The degrees.
const (
	Wide    Attested = iota // many teachers agree
	Some                    // one or two teach it
	Derived                 // follows from the rule, not taken from a teacher
	Differ                  // teachers say different things
)

var attestedWords = [...]string{
	Wide: "widely taught", Some: "taught by some", Derived: "worked out from the rule", Differ: "teachers differ",
}

// String says the degree in plain words.
func (a Attested) String() string { return attestedWords[a] }

// Hands is how one knitter holds the yarns. Where teachers differ only she can tell which lies lower.
type Hands struct {
	Hold   Hold
	Carry  Carry
	Mirror bool  // she works from the right needle to the left
	Lower  Place // whose strand comes from below, as she told; NoPlace where she did not
}

// Places lists the places a yarn can sit in, first the dominant one, whose strand comes from below: two,
// or in a rotating carry only SameSide; none for a carry that CheckCarry refuses.
func (h Hands) Places() []Place {
	if CheckCarry(h.Hold, h.Carry) != nil {
		return nil
	}
	if h.Carry == Rotating {
		return []Place{SameSide}
	}
	list := slices.Clone(all[h.Hold].places[:])
	if h.Mirror {
		for i, p := range list {
			list[i] = p.Mirror()
		}
	}
	if h.Lower == list[1] {
		slices.Reverse(list)
	}
	return list
}

// level is that of the strand in a place. In a rotating carry a yarn is taken from under the one just used.
func (h Hands) level(p Place) Level {
	if h.Carry == Rotating || p == h.Places()[0] {
		return Below
	}
	return Above
}

// Asks reports whether which place lies lower is to be asked: teachers differ, or nobody says.
func (h Hands) Asks() bool {
	return h.Carry == Parallel && all[h.Hold].sure != Wide
}

// Dominance tells which place is dominant: its strand comes from below and its stitches stand out.
type Dominance struct {
	Known  bool  // false in a rotating carry: Place means nothing
	Place  Place // the place that is dominant
	Told   bool  // the knitter said so
	Sure   Attested
	Advice string // what to do when it is not widely agreed on; empty otherwise
}

// LookAtSwatch is the advice where dominance is not widely agreed on.
const LookAtSwatch = "Not sure: look at the wrong side below the needle. The floats of the dominant yarn lie lower, " +
	"and on the right side its stitches stand out."

const rotatingAdvice = "In a rotating carry the strands change places at every change of yarn: neither is dominant all along."

// Dominant tells which place is dominant and how sure that is; in a rotating carry none is. That a mirror
// knitter's right hand is the dominant one of two is worked out, not taught.
func (h Hands) Dominant() Dominance {
	if h.Carry == Rotating {
		return Dominance{Sure: Derived, Advice: rotatingAdvice}
	}
	places := h.Places()
	d := Dominance{Known: true, Place: places[0], Sure: all[h.Hold].sure}
	switch {
	case h.Lower != NoPlace && slices.Contains(places, h.Lower):
		d.Told = true
	case h.Mirror && h.Hold == TwoHands:
		d.Sure, d.Advice = Derived, LookAtSwatch
	case d.Sure != Wide:
		d.Advice = LookAtSwatch
	}
	return d
}
