package chart

import (
	"fmt"
	"strings"
)

// Technique is how a stitch is worked, named by its look on the right side.
type Technique uint8

// The techniques a chart can name.
const (
	Knit Technique = iota
	Purl
	Slip
	K2tog // right-leaning decrease: two stitches knitted together
	Ssk   // left-leaning decrease: slip, slip, knit together
	K3tog // right-leaning double decrease
	Sk2p  // left-leaning double decrease: slip, knit two together, pass over
	Cdd   // centered double decrease
	Yo    // yarn over
	M1    // make one from the strand between two stitches
	M1l   // the same, leaning left: strand lifted from the front, worked through the back loop
	M1r   // the same, leaning right: strand lifted from the back, worked through the front loop
	Kfb   // knit into the front and the back of one stitch
)

// techniques holds, per technique, its word in the chart file, the stitches it
// uses up and makes, and which it is in a mirror (US terms; common practice).
var techniques = [...]struct {
	word        string
	uses, makes int
	mirrored    Technique
}{
	Knit:  {"knit", 1, 1, Knit},
	Purl:  {"purl", 1, 1, Purl},
	Slip:  {"slip", 1, 1, Slip},
	K2tog: {"k2tog", 2, 1, Ssk},
	Ssk:   {"ssk", 2, 1, K2tog},
	K3tog: {"k3tog", 3, 1, Sk2p},
	Sk2p:  {"sk2p", 3, 1, K3tog},
	Cdd:   {"cdd", 3, 1, Cdd},
	Yo:    {"yo", 0, 1, Yo},
	M1:    {"m1", 0, 1, M1},
	M1l:   {"m1l", 0, 1, M1r},
	M1r:   {"m1r", 0, 1, M1l},
	Kfb:   {"kfb", 1, 2, Kfb},
}

// String is the word for the technique in a chart file.
func (t Technique) String() string { return techniques[t].word }

// Uses is how many stitches of the row below the technique uses up.
func (t Technique) Uses() int { return techniques[t].uses }

// Makes is how many stitches the technique leaves on the needle.
func (t Technique) Makes() int { return techniques[t].makes }

// Shaped reports whether it changes the number of stitches: no catch should land there.
func (t Technique) Shaped() bool { return t.Uses() != 1 || t.Makes() != 1 }

// Mirrored is the technique with left and right exchanged, which leans the other way.
func (t Technique) Mirrored() Technique { return techniques[t].mirrored }

// ParseTechnique reads the word in a chart file. The error names the nearest, or all.
func ParseTechnique(word string) (Technique, error) {
	for i, t := range techniques {
		if t.word == word {
			return Technique(i), nil
		}
	}
	return Knit, fmt.Errorf("%q is not a technique: %s", word, techniqueHint(word))
}

func techniqueHint(word string) string {
	words := make([]string, len(techniques))
	for i, t := range techniques {
		words[i] = t.word
	}
	if near := Nearest(word, words); near != "" {
		return "did you mean " + near + "?"
	}
	return "the techniques are " + strings.Join(words, ", ")
}
