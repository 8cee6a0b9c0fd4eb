package hold

import (
	"slices"
	"strings"
)

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

// ParsePlace reads the short name of a place, with spaces or hyphens; else the *WordError names the places.
func (h Hands) ParsePlace(word string) (Place, error) {
	var names []string
	for _, p := range h.Places() {
		if strings.EqualFold(strings.ReplaceAll(word, "-", " "), p.String()) {
			return p, nil
		}
		names = append(names, strings.ReplaceAll(p.String(), " ", "-"))
	}
	return NoPlace, &WordError{What: "place", Word: word, Choices: names}
}
