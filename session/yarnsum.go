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

// Supply is what a piece takes of one yarn and what there is of it. Lengths are in
// meters, weights in grams; a weight is 0 where it is not known.
type Supply struct {
	Yarn                int // index into the fabric's yarns
	Whole, Done, ToCome YarnParts
	Factor              float64     // what was really used for what was estimated; 1 when nothing was measured
	PerGram             float64     // meters a gram; 0 when not known
	Used                *Used       // the newest measure the factor comes from; nil when there is none
	Balls               []BallNoted // in the order they were noted
	Lots                []string
	Stock               float64 // meters in all balls; 0 when none has a length
	Left                float64 // meters of the stock not used yet; may be negative
	Enough              int     // rows to come that the stock is enough for
	Short               float64 // meters lacking for the rows to come; negative is to spare
}

// Meters is a length of the sum, in mm, as it really turns out.
func (s *Supply) Meters(p YarnParts) float64 { return p.Total() * s.Factor / 1000 }

// Grams is the weight of a length of the sum; 0 when not known.
func (s *Supply) Grams(p YarnParts) float64 {
	if s.PerGram == 0 {
		return 0
	}
	return s.Meters(p) / s.PerGram
}

// Supplies tells for each yarn that is worked what the piece takes and what there is. What was measured
// scales everything. A weight turns into a length by the ball's; where no ball tells both, the estimated
// length stands and the measured weight gives the grams.
func (p *Piece) Supplies(sum *YarnSum) []Supply {
	var supplies []Supply
	for yarn, y := range p.Layout.Fabric.Yarns {
		s := Supply{Yarn: yarn, Factor: 1, Whole: sum.Between(yarn, 1, sum.Rows())}
		if s.Whole.Total() == 0 {
			continue
		}
		s.Done = sum.Between(yarn, 1, sum.Row)
		s.ToCome = sum.Between(yarn, sum.Row+1, sum.Rows())
		s.takeBalls(p.State.Balls, y.Symbol)
		s.takeUsed(p.State.Used, y.Symbol, sum)
		s.measure(sum)
		supplies = append(supplies, s)
	}
	return supplies
}

func (s *Supply) takeBalls(balls []BallNoted, symbol rune) {
	grams, weighed := 0.0, 0.0 // of balls that tell both
	for _, b := range balls {
		if b.Yarn != symbol {
			continue
		}
		s.Balls = append(s.Balls, b)
		s.Stock += b.Meters.Float()
		if b.Grams > 0 && b.Meters > 0 {
			grams += b.Grams.Float()
			weighed += b.Meters.Float()
		}
		if b.DyeLot != "" && !slices.Contains(s.Lots, b.DyeLot) {
			s.Lots = append(s.Lots, b.DyeLot)
		}
	}
	if grams > 0 {
		s.PerGram = weighed / grams
	}
}

// takeUsed finds the factor from the newest measure.
func (s *Supply) takeUsed(all []Used, symbol rune, sum *YarnSum) {
	mine := slices.DeleteFunc(slices.Clone(all), func(u Used) bool { return u.Yarn != symbol })
	if len(mine) == 0 {
		return
	}
	s.Used = &mine[len(mine)-1]
	estimated := sum.Between(s.Yarn, 1, min(s.Used.Row, sum.Rows())).Total() / 1000
	if estimated == 0 {
		s.Used = nil // measured before the yarn was worked
		return
	}
	grams, meters := s.Used.Grams.Float(), s.Used.Meters.Float()
	switch {
	case meters > 0:
		s.Factor = meters / estimated
	case s.PerGram > 0:
		s.Factor = grams * s.PerGram / estimated
	}
	if grams > 0 {
		s.PerGram = estimated * s.Factor / grams
	}
}

// measure sets the stock against what is to come.
func (s *Supply) measure(sum *YarnSum) {
	if s.Stock == 0 {
		return
	}
	s.Left = s.Stock - s.Meters(s.Done)
	s.Short = s.Meters(s.ToCome) - s.Left
	left := s.Left * 1000 / s.Factor
	for row := sum.Row + 1; row <= sum.Rows(); row++ {
		if left -= sum.rows[row-1][s.Yarn].Total(); left < -1e-6 {
			return
		}
		s.Enough++
	}
}
