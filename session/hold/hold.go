// Package hold knows how two yarns are held and how a float is caught with each
// hold: the places a yarn can sit in, which of them stands out, the hand motion of
// every catch, and the crossings each motion leaves between the two strands. It
// also keeps count of those crossings, since two of them are one turn of the yarns
// about each other. All of a hold is in one file.
//
// Motions are tables, written for a knitter who works from the left needle to the
// right. A mirror knitter works the other way; for her left and right are swapped in
// every place and sentence, and nothing else is.
//
// Every motion is data twice over: the words of its steps, and with each step how it leads
// one strand past the other (step.go). From these follow whether the catch holds, by how
// many legs, and how many crossings it leaves; a motion that traps nothing, or holds by one
// leg only where it should by two, fails a test.
//
// The motions are common practice without a single source; how widely each is taught
// stands beside it. What was worked out from the rule alone is marked Derived.
package hold

import (
	"fmt"
	"slices"

	"strandwise/floats"
)

// Hold is a way of holding the yarns of a row.
type Hold uint8

// The holds, in the order they are listed in.
const (
	TwoHands        Hold = iota // one yarn in each hand
	LeftOneFinger               // both over the left index finger
	LeftTwoFingers              // one over each of two fingers of the left hand
	RightTwoFingers             // one over each of two fingers of the right hand
	RightOneFinger              // both over the right index finger
	OneAtATime                  // the yarn in use is picked up, the other dropped

	holdCount // how many there are
)

// Carry is the order the strands keep over a row.
type Carry uint8

// The carries. Parallel is the default of every hold.
const (
	Parallel Carry = iota // one strand always from below, the other from above
	Rotating              // every change takes the new yarn from the same side
)

// Side is the side of the fabric that faces the knitter.
type Side uint8

// The sides.
const (
	KnitSide Side = iota // right side facing, floats behind
	PurlSide             // wrong side facing, floats in front of the knitter
)

var (
	carryWords = []string{Parallel: "parallel", Rotating: "rotating"}
	sideWords  = []string{KnitSide: "knit side", PurlSide: "purl side"}
)

// holding is all there is to know about a hold: a new one is a file, a constant above and a row in all.
type holding struct {
	word    string
	phrase  string      // what it is in plain words, for a knitter who works from the left needle to the right
	places  [2]Place    // in the parallel carry, first the one whose strand usually comes from below
	sure    Attested    // how sure that is
	rotates bool        // it can go with a rotating carry
	motions []motionRow // weaves before twists
}

var all = [holdCount]*holding{
	TwoHands: &twoHands, LeftOneFinger: &leftOneFinger, LeftTwoFingers: &leftTwoFingers,
	RightTwoFingers: &rightTwoFingers, RightOneFinger: &rightOneFinger, OneAtATime: &oneAtATime,
}

// String is the word of the hold on the command line.
func (h Hold) String() string { return all[h].word }

// MarshalText is the hold as answers to programs name it.
func (h Hold) MarshalText() ([]byte, error) { return []byte(h.String()), nil }

// String is the word of the carry on the command line.
func (c Carry) String() string { return carryWords[c] }

// MarshalText is the carry as answers to programs name it.
func (c Carry) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// String is "knit side" or "purl side".
func (s Side) String() string { return sideWords[s] }

// MarshalText is the side as answers to programs name it.
func (s Side) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Describe says in plain words what the hold is. Its word is that of a knitter who works from the left
// needle to the right; for a mirror knitter Describe names the hand that is really meant.
func (h Hold) Describe(mirror bool) string { return mirrorIf(mirror, all[h].phrase) }

// Holds lists every hold, in the order of the constants.
func Holds() []Hold {
	var list []Hold
	for i := range all {
		list = append(list, Hold(i))
	}
	return list
}

// Carries lists the carries a hold can go with, the default first.
func Carries(h Hold) []Carry {
	if all[h].rotates {
		return []Carry{Parallel, Rotating}
	}
	return []Carry{Parallel}
}

// Methods lists both methods, the weave first.
func Methods() []floats.Method { return []floats.Method{floats.Weave, floats.Twist} }

// ParseHold is the hold of a word, the first of another.
func ParseHold(word string) Hold {
	return Hold(max(0, slices.IndexFunc(all[:], func(h *holding) bool { return h.word == word })))
}

// ParseCarry is the carry of a word, Parallel of another.
func ParseCarry(word string) Carry { return Carry(max(0, slices.Index(carryWords, word))) }

// CarryError tells that a hold cannot go with a rotating carry.
type CarryError struct{ Hold Hold }

func (e *CarryError) Error() string {
	return fmt.Sprintf("hold %s cannot go with a rotating carry: both yarns stay in the hand in a fixed order, "+
		"so they never turn about each other; use the parallel carry, or hold %s", e.Hold, OneAtATime)
}

// CheckCarry reports, as a *CarryError, a rotating carry with a hold that cannot go with it.
func CheckCarry(h Hold, c Carry) error {
	if slices.Contains(Carries(h), c) {
		return nil
	}
	return &CarryError{h}
}
