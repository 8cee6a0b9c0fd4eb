package session

import (
	"math"

	"strandwise/floats"
)

// Finish is the state of a knitted fabric, on which the shape of its loops depends.
type Finish uint8

// The finishes.
const (
	WetRelaxed   Finish = iota // washed and laid out to dry: what most knitters measure
	DryRelaxed                 // off the needles, never wetted
	FullyRelaxed               // washed and dried in movement
)

// loopConstants are k of Munden, J. Textile Inst. 50 (1959) T448-T471, and of
// Knapton, Ahrens, Ingenthron and Fong, Textile Res. J. 38 (1968) 999-1012, for a
// plain fabric: courses per length = kc / l, wales = kw / l, stitches per area = ks /
// l*l, with l the length of yarn in a loop. From memory; kc 5.5 and kw 4.2 agree with
// GATE Textile Engineering 2015, question 54.
var loopConstants = [...]struct{ kc, kw, ks float64 }{
	WetRelaxed:   {5.3, 4.1, 21.6},
	DryRelaxed:   {5.0, 3.8, 19.0},
	FullyRelaxed: {5.5, 4.2, 23.1},
}

var finishWords = [...]string{WetRelaxed: "washed", DryRelaxed: "dry", FullyRelaxed: "tumbled"}

// String is the word of a finish on the command line.
func (f Finish) String() string { return finishWords[f] }

// Finishes lists them, the usual one first.
func Finishes() []Finish { return []Finish{WetRelaxed, DryRelaxed, FullyRelaxed} }

// ParseFinish gives the finish of a word; another word is a *FieldError.
func ParseFinish(word string) (Finish, error) { return wordAt[Finish]("finish", word, finishWords[:]) }

// LoopLength is the yarn in one stitch, in mm. With both gauges it follows from the
// stitches in an area: a stranded fabric is nearly square, so that its stitch gauge
// alone would mislead. With the stitch gauge alone it follows from that.
func LoopLength(g floats.Gauge, f Finish) float64 {
	k := loopConstants[f]
	if g.RowHeight() == 0 {
		return k.kw * g.StitchWidth()
	}
	return math.Sqrt(k.ks * g.StitchWidth() * g.RowHeight())
}
