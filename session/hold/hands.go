package hold

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

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

// MarshalText is the degree as answers to programs name it.
func (a Attested) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// Place is where a yarn sits while a row is worked.
type Place uint8

// The places.
const (
	NoPlace Place = iota
	LeftHand
	RightHand
	LowerStrand // the lower of two strands over one finger
	UpperStrand
	LeftIndex
	LeftMiddle
	RightIndex
	RightMiddle
	FarStrand // the strand farther from the fingertip
	NearStrand
	FromBelow
	FromAbove
	SameSide // rotating carry: whichever yarn is needed comes from the same side
)

// placeText is a place by its short name, in a phrase, and as a motion calls the yarn that sits there.
type placeText struct{ name, phrase, strand string }

var placeTexts = [...]placeText{
	LeftHand:    {"left hand", "in the left hand", "the left yarn"},
	RightHand:   {"right hand", "in the right hand", "the right yarn"},
	LowerStrand: {"lower strand", "the lower strand over the left index finger", "the lower strand"},
	UpperStrand: {"upper strand", "the upper strand over the left index finger", "the upper strand"},
	LeftIndex:   {"left index", "over the left index finger", "the index strand"},
	LeftMiddle:  {"left middle", "over the left middle finger", "the middle strand"},
	RightIndex:  {"right index", "over the right index finger", "the index strand"},
	RightMiddle: {"right middle", "over the right middle finger", "the middle strand"},
	FarStrand:   {"far strand", "the far strand over the right index finger", "the far strand"},
	NearStrand:  {"near strand", "the near strand over the right index finger", "the near strand"},
	FromBelow:   {"from below", "always taken from below", "the yarn from below"},
	FromAbove:   {"from above", "always taken from above", "the yarn from above"},
	NoPlace:     {"no place", "no place", "the yarn"},
	SameSide:    {"same side", "always taken from the same side, under the yarn just used", "the yarn just taken"},
}

// String is the short plain name of the place, such as "left hand".
func (p Place) String() string { return placeTexts[p].name }

// MarshalText is the place as answers to programs name it.
func (p Place) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// Phrase says where the yarn sits in a few more words: "the lower strand over the left index finger". A
// place of a mirror knitter, as Places gives it, is asked with mirror set.
func (p Place) Phrase(mirror bool) string {
	if mirror {
		return swapSides(placeTexts[p.Mirror()].phrase)
	}
	return placeTexts[p].phrase
}

// Strand is what the steps of a motion call the yarn that sits in the place.
func (p Place) Strand() string { return placeTexts[p].strand }

// Mirror is the place with left and right swapped; one without a side stays.
func (p Place) Mirror() Place {
	other := swapSides(p.String())
	return Place(slices.IndexFunc(placeTexts[:], func(t placeText) bool { return t.name == other }))
}

// sideWord finds the words that name a side of the knitter, also as the beginning of leftward and
// left-hand. A test holds that the tables keep "right" and "left" for sides only.
var sideWord = regexp.MustCompile(`\b([Ll]eft|[Rr]ight)(ward|-hand)?\b`)

var otherSide = map[string]string{"left": "right", "right": "left", "Left": "Right", "Right": "Left"}

// swapSides swaps left and right in a text; done twice it gives the text back.
func swapSides(text string) string {
	return sideWord.ReplaceAllStringFunc(text, func(word string) string {
		parts := sideWord.FindStringSubmatch(word)
		return otherSide[parts[1]] + parts[2]
	})
}

func mirrorIf(mirror bool, text string) string {
	if mirror {
		return swapSides(text)
	}
	return text
}

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

// PlaceError tells that a word names none of the places of the hands. The caller adds the nearest one.
type PlaceError struct {
	Word    string // as given
	Choices []string
}

func (e *PlaceError) Error() string {
	return fmt.Sprintf("there is no place %q; choose one of %s", e.Word, strings.Join(e.Choices, ", "))
}

// ParsePlace reads the short name of a place, with spaces or hyphens; else the *PlaceError names the places.
func (h Hands) ParsePlace(word string) (Place, error) {
	var names []string
	for _, p := range h.Places() {
		if strings.EqualFold(strings.ReplaceAll(word, "-", " "), p.String()) {
			return p, nil
		}
		names = append(names, strings.ReplaceAll(p.String(), " ", "-"))
	}
	return NoPlace, &PlaceError{word, names}
}
