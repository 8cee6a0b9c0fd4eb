package session

import (
	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session/hold"
)

// Sheet is all that a knitter is told of one row, as facts; how it looks is decided
// where it is printed. Stitches are counted in knitting order within one repeat,
// from 1, unless said otherwise.
type Sheet struct {
	Piece     string
	Row, Of   int // from 1; rows of the piece
	Round     bool
	WrongSide bool
	FromLeft  bool // worked from the highest column to column 1
	Part      PartPlace
	Method    floats.Method
	Limit     int
	Begun     int // stitches worked of it, over all repeats; 0 when not known

	Yarns        []chart.Yarn    // the yarns of the piece; all else tells yarns by index
	Repeats      int             // how often what follows is worked
	Order        []floats.Stitch // one repeat in knitting order
	Runs         []Run           // the same by color, with the catches most repeats have
	Catches      []SheetCatch    // those catches once more, in order
	OtherRepeats []OtherRepeat   // repeats with other catches, in order
	Changes      []string        // of a finished row, what was made otherwise than it had been shown

	Total, After int       // stitches of the row over all repeats, and left on the needle after it
	Shaping      []Shaping // shaped stitches, in order
	Strips       Strips
	YarnPlaces   []YarnPlace
	Moves        []YarnPlace // seats that differ from the row below; all of them in the first row
	Notes        []RowNote
	Twin         *Twin
	Motions      []SheetMotion
	Cautions     []string
	Reasons      []string // why catches are not where the plan has them; of rows to come
}

// PartPlace is where a row stands in the parts of its piece.
type PartPlace struct {
	Name        string
	Number, Of  int // part, from 1, and how many the plan has that the row is worked from
	Copy, Times int // copy upward, from 1, and how many
	Row, Rows   int // of the chart or of the plain rows, from 1
	Plain       bool
	Begins      bool // the first row of its part
}

// Run is consecutive stitches of one yarn in one repeat.
type Run struct {
	Yarn     int
	Stitches int
	Catches  []SheetCatch
}

// SheetCatch is a catch as a row shows it.
type SheetCatch struct {
	Stitch int  // in the repeat, from 1
	InRun  int  // in its run, from 1
	Yarn   int  // the yarn caught
	Moved  bool // not where the plan had it
}

// OtherRepeat is one repeat whose catches differ from most. Repeats count from 1 in
// knitting order.
type OtherRepeat struct {
	Repeat  int
	Without []SheetCatch
	Also    []SheetCatch
}

// Shaping is a shaped stitch with its word for the side that faces the knitter.
type Shaping struct {
	Stitch int
	Word   string
	Yarn   int
}

// Strips are the row and the row below as the chart shows them: index 0 is column 1,
// the rightmost.
type Strips struct {
	Row, Below          []chart.Cell
	Caught, CaughtBelow []bool // by column of the repeat: a catch stands there
	BelowFits           bool   // both rows have the same repeat, so columns match
}

// Sheet tells all about a row. Rows count from 1 and are at most Rows; a finished
// row shows the catches that were made, and tells in words which were planned.
func (p *Piece) Sheet(row int) *Sheet {
	r := p.Row(row)
	s := &Sheet{
		Piece: p.State.Setup.Name, Row: row, Of: p.Rows(), Round: !p.Layout.Fabric.Flat,
		WrongSide: r.WrongSide, FromLeft: r.FromLeft, Part: p.partPlace(row),
		Method: p.State.GripAt(row).FloatMethod(), Limit: p.State.SegmentAt(row).Limit,
		Yarns: p.Layout.Fabric.Yarns, Repeats: r.Repeats, Order: r.InOrder(),
		Total: r.Stitches(), After: stitchesAfter(r),
	}
	if row == p.State.Row+1 {
		s.Begun = p.State.Begun
	}
	if row > p.State.Row {
		s.Reasons = p.ReasonWords(row)
	}
	s.fillCatches(p.made(row), p.planned(row), row > p.State.Row)
	s.Changes = p.changed(row)
	s.fillRuns()
	s.fillShaping(p.State.Setup.Mirror)
	s.Strips = p.strips(row, s.Catches)
	s.YarnPlaces = p.YarnPlaces(row)
	s.Moves = p.moves(row, s.YarnPlaces)
	s.Notes = p.notes(row)
	s.Twin = p.twin(row)
	s.Motions = p.motions(row, s)
	s.Cautions = p.cautionsAt(row)
	return s
}

// changed tells what was made otherwise in a finished row; see ChangeWords.
func (p *Piece) changed(row int) []string {
	if row > p.State.Row {
		return nil
	}
	return p.ChangeWords(row, p.Changes(row))
}

func (p *Piece) partPlace(row int) PartPlace {
	r := p.Row(row)
	ref := p.Layout.Parts[r.Part]
	from, to := p.Layout.planOf(r.Part)
	place := PartPlace{
		Name: ref.Name, Number: r.Part - from + 1, Of: to - from, Copy: r.Copy, Times: max(1, ref.Times),
		Row: r.ChartRow, Rows: ref.Rows, Plain: ref.IsPlain(),
	}
	place.Begins = row == 1 || p.Row(row-1).Part != r.Part
	return place
}

// stitchesAfter is how many stitches a row leaves on the needle.
func stitchesAfter(r *floats.Row) int {
	n := 0
	for _, s := range r.InOrder() {
		n += s.Technique.Makes()
	}
	return n * r.Repeats
}

// fillRuns gathers the stitches into runs and hands each its catches.
func (s *Sheet) fillRuns() {
	at := 0
	for i, st := range s.Order {
		if i == 0 || st.Yarn != s.Order[i-1].Yarn {
			s.Runs = append(s.Runs, Run{Yarn: st.Yarn})
			at = i
		}
		run := &s.Runs[len(s.Runs)-1]
		run.Stitches++
		for k := range s.Catches {
			if c := &s.Catches[k]; c.Stitch == i+1 {
				c.InRun = i - at + 1
				run.Catches = append(run.Catches, *c)
			}
		}
	}
}

// moves are the seats that are news: a yarn that comes to a place, whoever had it
// before. One that comes back to the place it left free is none.
func (p *Piece) moves(row int, seats []YarnPlace) []YarnPlace {
	var moves []YarnPlace
	for _, s := range seats {
		if !p.keptSeat(row, s) {
			moves = append(moves, s)
		}
	}
	return moves
}

// keptSeat reports whether the last row below in which the yarn was worked, or another
// had its place, has the yarn in the same seat. It takes time linear in the rows since.
func (p *Piece) keptSeat(row int, s YarnPlace) bool {
	for r := row - 1; r >= 1; r-- {
		for _, below := range p.YarnPlaces(r) {
			if below.Yarn == s.Yarn {
				return below == s
			}
		}
		for _, below := range p.YarnPlaces(r) {
			if below.Place == s.Place && s.Place != hold.SameSide {
				return false
			}
		}
	}
	return false
}

func (p *Piece) strips(row int, catches []SheetCatch) Strips {
	r := p.Row(row)
	st := Strips{Row: r.Cells, Caught: make([]bool, len(r.Cells))}
	for _, c := range catches {
		st.Caught[r.InOrder()[c.Stitch-1].Column] = true
	}
	if row == 1 {
		return st
	}
	below := p.Row(row - 1)
	st.Below, st.CaughtBelow = below.Cells, make([]bool, len(below.Cells))
	st.BelowFits = len(below.Cells) == len(r.Cells) && below.Repeats == r.Repeats
	for _, c := range p.commonMade(row - 1) {
		st.CaughtBelow[below.InOrder()[c-1].Column] = true
	}
	return st
}

// commonMade lists the stitches of a repeat on which most repeats of a finished row
// were caught, or of a row to come will be.
func (p *Piece) commonMade(row int) []int {
	common, _ := byRepeat(p.made(row), p.Row(row).RepeatStitches(), p.Row(row).Repeats)
	var stitches []int
	for _, m := range common {
		stitches = append(stitches, m.Stitch)
	}
	return stitches
}
