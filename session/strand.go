package session

import (
	"cmp"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// Spot is a stitch of the piece.
type Spot struct {
	Row    int `json:"row"` // from 1
	Stitch int `json:"-"`   // in knitting order over the whole row, from 1
	floats.Place
}

// Spot is a stitch of a row, both from 1, the stitch over the whole row.
func (p *Piece) Spot(row, stitch int) Spot { return Spot{row, stitch, p.PlaceOf(row, stitch)} }

// Strand is a float as it lies behind the work, with the catches that hold it.
type Strand struct {
	Yarn   int // index into the fabric's yarns
	Kind   floats.Kind
	From   Spot // the first stitch it passes behind; one over the start may run on into the next row
	Length int  // stitches, at least 1
	Caught []Spot
	Gaps   []Gap // in knitting order; none is empty
}

// Gap is neighboring stitches behind which a yarn runs uncaught, from one anchor of its float to the next.
// The stitch of a weave is in neither gap beside it; that of a twist counts in the gap after it.
// Its limit is the longest it was to be, that of the row it begins in; its length, in mm by the gauge of that row,
// is 0 without one, and where it was not measured.
type Gap struct {
	Yarn     PieceYarn   `json:"yarn"`
	Kind     floats.Kind `json:"kind"`
	From     Spot        `json:"from"`
	To       Spot        `json:"to"`       // the last stitch, in
	Stitches int         `json:"stitches"` // at least 1
	Limit    int         `json:"limit"`
	Length   float64     `json:"length_mm"`
}

// Over is how many stitches the gap is over its limit; 0 or less when it is within.
func (g Gap) Over() int { return g.Stitches - g.Limit }

// sortByUrgency puts the gaps farthest over their limit first, then the longer, then in knitting order.
func sortByUrgency(gaps []Gap) {
	slices.SortFunc(gaps, func(a, b Gap) int {
		return cmp.Or(
			cmp.Compare(b.Over(), a.Over()), cmp.Compare(b.Stitches, a.Stitches),
			cmp.Compare(a.From.Row, b.From.Row), cmp.Compare(a.From.Stitch, b.From.Stitch), cmp.Compare(a.Yarn.Index, b.Yarn.Index),
		)
	})
}

// Strands gives every float in the first rows of the piece, ordered by row, stitch and yarn. Caught gives
// the catches of a row, from 1, in knitting order; each row's own method tells what a catch divides. A float
// over the start is there once both its rows are. The time is linear in the stitches of the whole piece.
func (p *Piece) Strands(rows int, caught func(row int) []Mark) []Strand {
	var strands []Strand
	for _, fl := range p.Layout.Fabric.Floats(p.State.Setup.RestLimit) {
		if lastRow(fl) <= rows {
			strands = append(strands, p.strand(fl, caught))
		}
	}
	return strands
}

func (p *Piece) used(row int) []Mark { return p.State.DoneRow(row).Used }

// lastRow is the row in which a float ends, from 1. One over the start whose first stitch is the
// first of a row lies in its upper row alone.
func lastRow(fl floats.Float) int {
	if fl.Kind == floats.OverStart && fl.Stitch > 1 {
		return fl.Row + 2
	}
	return fl.Row + 1
}

func (p *Piece) strand(fl floats.Float, catches func(row int) []Mark) Strand {
	st := Strand{Yarn: fl.Yarn, Kind: fl.Kind, From: p.Spot(fl.Row+1, fl.Stitch), Length: fl.Length}
	open := 1 // position from which the yarn runs uncaught
	for at := 1; at <= fl.Length; at++ {
		row, stitch := p.onward(st.From, at)
		if _, caught := slices.BinarySearchFunc(catches(row), Mark{stitch, fl.Yarn}, Mark.Compare); !caught {
			continue
		}
		st.Caught = append(st.Caught, p.Spot(row, stitch))
		p.addGap(&st, open, at-1)
		open = at
		if p.State.GripAt(row).FloatMethod() == floats.Weave {
			open++
		}
	}
	p.addGap(&st, open, fl.Length)
	return st
}

// onward places a stitch of a strand or a gap, counted from 1 where it begins: past the last of its
// row it is in the next.
func (p *Piece) onward(from Spot, at int) (row, stitch int) {
	stitch = from.Stitch + at - 1
	if n := p.Row(from.Row).Stitches(); stitch > n {
		return from.Row + 1, stitch - n
	}
	return from.Row, stitch
}

func (p *Piece) addGap(st *Strand, first, last int) {
	if first <= last {
		from := p.Spot(p.onward(st.From, first))
		st.Gaps = append(st.Gaps, Gap{
			Yarn: p.yarn(st.Yarn), Kind: st.Kind, From: from, To: p.Spot(p.onward(st.From, last)),
			Stitches: last - first + 1, Limit: p.State.SegmentAt(from.Row).Limit,
		})
	}
}

// measured is a gap with its length; not of every gap, since to read the gauge for each takes long.
func (p *Piece) measured(g Gap) *Gap {
	gauge, _ := p.gaugeAt(g.From.Row)
	g.Length = float64(g.Stitches) * gauge.StitchWidth()
	return &g
}

// OverLimit lists the gaps over the limit of all finished rows, in time linear in the stitches.
func (p *Piece) OverLimit() []Gap { return p.gapsOver(p.Strands(p.State.Row, p.used)) }

func (p *Piece) gapsOver(strands []Strand) []Gap {
	var gaps []Gap
	for _, st := range strands {
		for _, g := range st.Gaps {
			if g.Over() > 0 {
				gaps = append(gaps, *p.measured(g))
			}
		}
	}
	return gaps
}

// LongGaps lists the gaps over the limit that a finished row closed, also of a strand over its start.
func (p *Piece) LongGaps(row int) []Gap {
	var strands []Strand
	for from := max(1, row-1); from <= row; from++ {
		for _, fl := range p.floatsOf(from) {
			if fl.Row+1 == from && lastRow(fl) == row {
				strands = append(strands, p.strand(fl, p.used))
			}
		}
	}
	return p.gapsOver(strands)
}

// passage is the part of a float that lies in one row.
type passage struct {
	floats.Float     // as a whole
	from, to     int // stitches of the row, both ends in
}

func (s passage) passes(yarn, stitch int) bool {
	return s.Yarn == yarn && s.from <= stitch && stitch <= s.to
}

// passages are where yarns are carried behind a row.
type passages []passage

func (p *Piece) passages(row int) passages {
	var all passages
	for _, fl := range p.floatsOf(row) {
		n, end := p.Row(fl.Row+1).Stitches(), fl.Stitch+fl.Length-1
		if fl.Row+1 == row {
			all = append(all, passage{fl, fl.Stitch, min(end, n)})
		} else {
			all = append(all, passage{fl, 1, end - n})
		}
	}
	return all
}

// floatsOf gives the floats with a stitch in a row, from 1.
func (p *Piece) floatsOf(row int) []floats.Float {
	return p.Layout.Fabric.RowFloats(row-1, p.State.Setup.RestLimit)
}

// under finds the passage of a yarn behind a stitch; -1 when there is none.
func (all passages) under(yarn, stitch int) int {
	return slices.IndexFunc(all, func(s passage) bool { return s.passes(yarn, stitch) })
}

// behind lists the yarns carried behind a stitch, of one yarn if it was said.
func (all passages) behind(said, stitch int) []int {
	var yarns []int
	for _, s := range all {
		if s.passes(s.Yarn, stitch) && (said == chart.NoYarn || s.Yarn == said) {
			yarns = append(yarns, s.Yarn)
		}
	}
	return yarns
}

// Carried reports whether a yarn of the fabric is carried behind a stitch, so that it can be caught there.
// Stitches count over the whole row, from 1. Behind a row the piece does not have none is carried.
func (p *Piece) Carried(row, stitch, yarn int) bool {
	return row >= 1 && row <= p.Rows() && p.passages(row).under(yarn, stitch) >= 0
}

// Logged tells catches made or shown in a row, from 1, by their letters and places.
func (p *Piece) Logged(row int, marks []Mark) []LoggedCatch {
	return mapped(marks, p.rowShown(row).logged)
}

func (r *shownRow) logged(m Mark) LoggedCatch {
	return LoggedCatch{r.letterOf(m), r.piece.catchAt(r.number, m)}
}

func (p *Piece) catchAt(row int, m Mark) PlacedCatch {
	return PlacedCatch{p.PlaceOf(row, m.Stitch), p.Layout.Fabric.Yarns[m.Yarn], m.Stitch}
}

// Changes tells what became of the catches of a finished row, from 1: as told, or as Compare finds.
func (p *Piece) Changes(row int) Changes {
	done := p.State.DoneRow(row)
	if done.Changes != nil {
		return *done.Changes
	}
	return p.Compare(row, done.Shown, done.Used)
}

// Missed lists the finished rows with a catch that was missed.
func (p *Piece) Missed() []int {
	var rows []int
	for _, done := range p.State.DoneRows {
		if len(p.Changes(done.Row).Missed) > 0 {
			rows = append(rows, done.Row)
		}
	}
	return rows
}

// Compare finds out what became of the catches shown in a row, from 1. A missing catch was moved when a new
// one holds the same strand at most reach stitches away and no catch of that yarn was kept between the two,
// the earliest first. Reach is the limit of the row: a catch that went farther does another catch's work.
// Both lists must be in order. The time is n log n in their length, linear in the stitches of the row, and
// quadratic in the catches that differ.
func (p *Piece) Compare(row int, shown, used []Mark) Changes {
	if slices.Equal(shown, used) {
		return Changes{}
	}
	all := p.passages(row)
	return changesFrom(shown, used, p.State.SegmentAt(row).Limit, func(m Mark) int { return all.under(m.Yarn, m.Stitch) })
}
