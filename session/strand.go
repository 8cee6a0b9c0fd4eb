package session

import (
	"cmp"
	"slices"
	"sort"

	"strandwise/floats"
)

// Spot is a stitch of the piece.
type Spot struct {
	Row    int `json:"row"`    // from 1
	Stitch int `json:"stitch"` // in knitting order over the whole row, from 1
}

// Strand is a float as it lies behind the work, with the catches that hold it.
type Strand struct {
	Yarn   int // index into the fabric's yarns
	Kind   floats.Kind
	From   Spot // the first stitch it passes behind; one over the start may run on into the next row
	Length int  // stitches, at least 1
	Caught []Spot
	Gaps   []Gap // in knitting order; none is empty
}

// Gap is neighbouring stitches behind which a yarn runs uncaught: from one anchor
// of its float to the next. The stitch of a weave is in neither gap beside it; a twist
// lies before its stitch, which counts in the gap after it.
type Gap struct {
	Yarn     int
	Kind     floats.Kind
	From, To Spot    // the first stitch and the last, both in
	Stitches int     // at least 1
	Limit    int     // the longest it was to be: that of the row it begins in
	Length   float64 // mm by the gauge of that row; 0 when none was given
}

// Over is how many stitches the gap is over its limit; 0 or less when it is within.
func (g Gap) Over() int { return g.Stitches - g.Limit }

// sortByUrgency puts the gaps farthest over their limit first; of two level the longer,
// then the one knitted first, then the yarn of the lower number.
func sortByUrgency(gaps []Gap) {
	slices.SortFunc(gaps, func(a, b Gap) int {
		return cmp.Or(
			cmp.Compare(b.Over(), a.Over()), cmp.Compare(b.Stitches, a.Stitches),
			cmp.Compare(a.From.Row, b.From.Row), cmp.Compare(a.From.Stitch, b.From.Stitch), cmp.Compare(a.Yarn, b.Yarn),
		)
	})
}

// Strands gives every float that lies in the first rows of the piece, the short ones
// too, ordered by row, stitch and yarn. Caught gives the catches of a row, from 1, in
// knitting order; each row's own method tells what a catch divides. A float over the start
// is there once both its rows are: with its first row alone it has no end yet. It takes
// time linear in the stitches of the whole piece.
func (p *Piece) Strands(rows int, caught func(row int) []Mark) []Strand {
	s := strander{p, rows, caught}
	var strands []Strand
	for _, fl := range p.Layout.Fabric.Floats(p.State.Setup.RestLimit) {
		if s.lies(fl) {
			strands = append(strands, s.strand(fl))
		}
	}
	return strands
}

// used gives the catches made in a finished row.
func (p *Piece) used() func(row int) []Mark {
	rows := p.State.DoneRows()
	return func(row int) []Mark { return rows[row-1].Used }
}

// strander makes strands of the floats that lie in the first rows, by the catches of each.
type strander struct {
	p      *Piece
	rows   int
	caught func(row int) []Mark
}

// stitchWidth is the width of a stitch by a gauge in mm, 0 without one. Every gap asks, so
// it is kept.
func (p *Piece) stitchWidth(gauge string) float64 {
	width, known := p.widths[gauge]
	if !known {
		if g, err := floats.ParseGauge(gauge); err == nil {
			width = g.StitchWidth()
		}
		if p.widths == nil {
			p.widths = map[string]float64{}
		}
		p.widths[gauge] = width
	}
	return width
}

// lies reports whether a float has both its ends in the rows. A float over the start
// whose first stitch is the first of a row lies in its upper row alone.
func (s strander) lies(fl floats.Float) bool {
	last := fl.Row + 1
	if fl.Kind == floats.OverStart && fl.Stitch > 1 {
		last++
	}
	return last <= s.rows
}

// strand is a float with its catches and its gaps.
func (s strander) strand(fl floats.Float) Strand {
	st := Strand{Yarn: fl.Yarn, Kind: fl.Kind, From: Spot{fl.Row + 1, fl.Stitch}, Length: fl.Length}
	open := 1 // position from which the yarn runs uncaught
	for _, at := range s.positions(fl) {
		spot := s.spot(fl, at)
		st.Caught = append(st.Caught, spot)
		st.Gaps = s.addGap(st.Gaps, fl, open, at-1)
		open = at
		if s.p.State.GripAt(spot.Row).FloatMethod() == floats.Weave {
			open++
		}
	}
	st.Gaps = s.addGap(st.Gaps, fl, open, fl.Length)
	return st
}

// spot places a position of a float, from 1.
func (s strander) spot(fl floats.Float, at int) Spot {
	stitch := fl.Stitch + at - 1
	if n := s.p.Row(fl.Row + 1).Stitches(); fl.Kind == floats.OverStart && stitch > n {
		return Spot{fl.Row + 2, stitch - n}
	}
	return Spot{fl.Row + 1, stitch}
}

// positions lists where a float is caught, ascending.
func (s strander) positions(fl floats.Float) []int {
	n := s.p.Row(fl.Row + 1).Stitches()
	here := min(fl.Length, n-fl.Stitch+1)
	at := s.within(nil, fl.Row+1, fl.Yarn, fl.Stitch, here, 0)
	if here < fl.Length {
		at = s.within(at, fl.Row+2, fl.Yarn, 1, fl.Length-here, here)
	}
	return at
}

// within adds the catches of a yarn on count stitches of a row (from 1), from one on, as
// positions counted on from offset.
func (s strander) within(at []int, row, yarn, from, count, offset int) []int {
	marks := s.caught(row)
	first := sort.Search(len(marks), func(i int) bool { return marks[i].Stitch >= from })
	for _, m := range marks[first:] {
		if m.Stitch >= from+count {
			break
		}
		if m.Yarn == yarn {
			at = append(at, offset+m.Stitch-from+1)
		}
	}
	return at
}

func (s strander) addGap(gaps []Gap, fl floats.Float, first, last int) []Gap {
	if last < first {
		return gaps
	}
	from, stitches := s.spot(fl, first), last-first+1
	seg := s.p.State.SegmentAt(from.Row)
	return append(gaps, Gap{
		Yarn: fl.Yarn, Kind: fl.Kind, From: from, To: s.spot(fl, last), Stitches: stitches,
		Limit: seg.Limit, Length: float64(stitches) * s.p.stitchWidth(seg.Gauge),
	})
}

// LongGaps lists the gaps over the limit that a finished row closed: those of its own
// strands and of the strand over the start that ends in it.
func (p *Piece) LongGaps(row int) []Gap {
	s := strander{p, row, p.used()}
	var gaps []Gap
	for _, fl := range p.closedBy(row) {
		if !s.lies(fl) {
			continue
		}
		for _, g := range s.strand(fl).Gaps {
			if g.Over() > 0 {
				gaps = append(gaps, g)
			}
		}
	}
	return gaps
}

// closedBy lists the floats that may end in a row: those with a stitch in it, and those
// that run from the row below right to its start.
func (p *Piece) closedBy(row int) []floats.Float {
	var closed []floats.Float
	if row > 1 {
		n := p.Row(row - 1).Stitches()
		for _, fl := range p.floatsOf(row - 1) {
			if fl.Kind == floats.OverStart && fl.Row == row-2 && fl.Stitch+fl.Length-1 == n {
				closed = append(closed, fl)
			}
		}
	}
	return append(closed, p.floatsOf(row)...)
}
