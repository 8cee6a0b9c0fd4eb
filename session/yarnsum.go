package session

import (
	"cmp"
	"math"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// How much yarn a piece takes is added up row by row, from four parts:
//
//   - loops: every stitch takes the length of a loop, by the published relation of
//     gauge and loop (LoopLength); a stitch that makes two takes two, a slipped one
//     is carried past like a float of one stitch;
//   - floats: a float of n stitches takes n stitch widths, a yarn at rest the height
//     of the rows it is carried up, both with some slack;
//   - catches: each takes the caught yarn a little out of its way;
//   - ends: a tail wherever the yarn begins and ends.
//
// The last three rest on assumptions of this program, which stand below and are told
// to the knitter. Her own measure beats them all: see Supply.
const (
	FloatSlack    = 0.05 // of a float's length
	CatchDetour   = 0.5  // stitch widths a catch
	EndMillimeter = 150  // a tail
)

// YarnParts is a length of yarn by what it goes into, in mm.
type YarnParts struct{ Loops, Floats, Catches, Ends float64 }

// Total is all of it.
func (p YarnParts) Total() float64 { return p.Loops + p.Floats + p.Catches + p.Ends }

func (p YarnParts) plus(q YarnParts) YarnParts {
	return YarnParts{p.Loops + q.Loops, p.Floats + q.Floats, p.Catches + q.Catches, p.Ends + q.Ends}
}

// YarnSum is what a piece takes of each yarn.
type YarnSum struct {
	Gauge  floats.Gauge // of the next row
	Finish Finish
	Loop   float64 // mm, at that gauge
	Row    int     // finished rows
	rows   [][]YarnParts
}

// NoGaugeError tells that a row has no gauge, so that nothing can be said of its yarn.
type NoGaugeError struct{}

func (e *NoGaugeError) Error() string {
	return "the piece has no gauge, so the yarn it takes cannot be estimated"
}

// YarnSum adds up the yarn of every row: of finished rows with the catches really made, of rows to come
// with the planned ones, at a gauge for all rows unless that is zero. It returns a *NoGaugeError, and takes
// time linear in the stitches.
func (p *Piece) YarnSum(g floats.Gauge, f Finish) (*YarnSum, error) {
	s := &YarnSum{Finish: f, Row: p.State.Row, rows: make([][]YarnParts, p.Rows())}
	rests := p.Layout.Fabric.Rests(p.State.Setup.RestLimit)
	for i := range s.rows {
		gauge, err := g, error(nil)
		if g.IsZero() {
			gauge, err = p.gaugeAt(i + 1)
		}
		if err != nil {
			return nil, &NoGaugeError{}
		}
		if i <= s.Row {
			s.Gauge, s.Loop = gauge, LoopLength(gauge, f)
		}
		s.rows[i] = p.yarnOf(i+1, gauge, f, rests)
	}
	s.addEnds(p, rests)
	return s, nil
}

// gaugeAt is the gauge that a row, from 1, was or will be worked at.
func (p *Piece) gaugeAt(row int) (floats.Gauge, error) {
	return floats.ParseGauge(p.State.SegmentAt(row).Gauge)
}

// yarnOf is what a row, from 1, takes of each yarn, but for ends.
func (p *Piece) yarnOf(row int, g floats.Gauge, f Finish, rests []floats.Rest) []YarnParts {
	parts, width, loop := make([]YarnParts, len(p.Layout.Fabric.Yarns)), g.StitchWidth(), LoopLength(g, f)
	for _, st := range p.Row(row).All() {
		if st.Technique == chart.Slip {
			parts[st.Yarn].Floats += (1 + FloatSlack) * width
			continue
		}
		parts[st.Yarn].Loops += loop * float64(st.Technique.Makes())
	}
	for _, fl := range p.passages(row) {
		parts[fl.Yarn].Floats += (1 + FloatSlack) * width * float64(fl.to-fl.from+1)
	}
	for _, r := range rests {
		if !r.Cut && r.FromRow < row && row <= r.ToRow+1 {
			parts[r.Yarn].Floats += (1 + FloatSlack) * cmp.Or(g.RowHeight(), width) // without a row gauge a stitch is taken to be square
		}
	}
	for _, m := range p.made(row) {
		parts[m.Yarn].Catches += CatchDetour * width
	}
	return parts
}

// Between adds up a yarn over rows from the first to the last, both in, from 1.
func (s *YarnSum) Between(yarn, first, last int) YarnParts {
	var sum YarnParts
	for row := first; row <= last; row++ {
		sum = sum.plus(s.rows[row-1][yarn])
	}
	return sum
}

// Rows is the number of rows.
func (s *YarnSum) Rows() int { return len(s.rows) }

// addEnds gives each yarn a tail where it is first and last worked, and two where it is cut for a rest.
func (s *YarnSum) addEnds(p *Piece, rests []floats.Rest) {
	first, last := map[int]int{}, map[int]int{}
	for i := range s.rows {
		for _, st := range p.Row(i + 1).InOrder() {
			if _, begun := first[st.Yarn]; !begun {
				first[st.Yarn] = i
			}
			last[st.Yarn] = i
		}
	}
	for yarn, row := range first {
		s.rows[row][yarn].Ends += EndMillimeter
		s.rows[last[yarn]][yarn].Ends += EndMillimeter
	}
	for _, r := range rests {
		if r.Cut {
			s.rows[r.FromRow-1][r.Yarn].Ends += EndMillimeter
			s.rows[r.ToRow+1][r.Yarn].Ends += EndMillimeter
		}
	}
}

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

// ParseFinish gives the finish of its word.
func ParseFinish(word string) Finish { return Finish(slices.Index(finishWords[:], word)) }

// LoopLength is the yarn in one stitch, in mm. With both gauges it follows from the stitches in an area: a
// stranded fabric is nearly square, so that its stitch gauge alone would mislead.
func LoopLength(g floats.Gauge, f Finish) float64 {
	k := loopConstants[f]
	if g.RowHeight() == 0 {
		return k.kw * g.StitchWidth()
	}
	return math.Sqrt(k.ks * g.StitchWidth() * g.RowHeight())
}
