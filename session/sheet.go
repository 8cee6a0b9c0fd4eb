package session

import (
	"slices"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session/hold"
)

// Sheet is all that a knitter is told of one row, as facts. Stitches are counted in knitting order within
// one repeat, from 1, unless said otherwise.
type Sheet struct {
	*shownRow

	Piece   string
	Row, Of int // from 1; rows of the piece
	Round   bool
	Turned  bool // the other way than the row below, or the first row
	Part    PartPlace
	Begun   int // stitches worked of it, over all repeats; 0 when not known

	Yarns   []chart.Yarn
	Blocks  []RowBlock // what the row is made of, in knitting order
	Changes []string   // of a finished row, what was made otherwise than it had been shown

	Strips   Strips
	Moves    []YarnPlace // seats that differ from the row below; all of them in the first row
	Notes    []RowNote
	Twin     *Twin
	Motions  []SheetMotion
	Cautions []string
	Reasons  []string // why catches are not where the plan has them; of rows to come
}

// Worked lists the yarns that are worked in the row, in order of their first stitch.
func (s *Sheet) Worked() []chart.Yarn {
	var worked []chart.Yarn
	for _, st := range s.InOrder() {
		if y := s.Yarns[st.Yarn]; !slices.Contains(worked, y) {
			worked = append(worked, y)
		}
	}
	return worked
}

// Plain reports whether all stitches are knit as the chart shows most.
func (s *Sheet) Plain() bool {
	return !slices.ContainsFunc(s.InOrder(), func(st floats.Stitch) bool { return st.Technique != chart.Knit })
}

// Shapes reports whether the row adds or takes stitches anywhere.
func (s *Sheet) Shapes() bool {
	return slices.ContainsFunc(s.InOrder(), func(st floats.Stitch) bool { return st.Technique.Uses() != 1 || st.Technique.Makes() != 1 })
}

// PlaceWords tells a stitch of the row, from 1, as Piece.PlaceWords does.
func (s *Sheet) PlaceWords(stitch int) string { return placeWords(s.Course, stitch) }

// PatternPlace is the place of a stitch of the pattern, from 0, in the first repeat of its block.
func (s *Sheet) PatternPlace(at int) floats.Place {
	b := &s.Course.Blocks[slices.IndexFunc(s.Course.Blocks, func(b floats.Block) bool { return at < b.From+b.Stitches })]
	return s.PlaceOf(b.First + at - b.From + 1)
}

// Block is the block of the row with a number.
func (s *Sheet) Block(number int) *RowBlock {
	at := slices.IndexFunc(s.Blocks, func(b RowBlock) bool { return b.Number == number })
	return &s.Blocks[at]
}

// Begins is the first stitch over the whole row, from 1, of a repeat (from 1) of a block.
func (s *Sheet) Begins(block *RowBlock, repeat int) int {
	return s.StitchAt(floats.Place{Block: block.Number, Repeat: repeat, Stitch: 1})
}

// Distinct gives the catches of all repeats of a row, each once, in order.
func (s *Sheet) Distinct() []Catch { return distinct(s.Blocks) }

// PartPlace is where a row stands in the parts of its piece.
type PartPlace struct {
	Name   string `json:"name"`
	Number int    `json:"number"` // from 1
	Of     int    `json:"of"`     // how many the plan has that the row is worked from
	Copy   int    `json:"copy"`   // upward, from 1
	Times  int    `json:"times"`
	Row    int    `json:"row"` // of the chart or of the plain rows, from 1
	Rows   int    `json:"rows"`
	Plain  bool   `json:"plain"`
	Begins bool   `json:"-"` // the first row of its part
}

// Strips are the row and the row below as the chart shows them, one repeat of each block, from column 1.
type Strips struct {
	Row, Below          []chart.Cell
	Caught, CaughtBelow [][]Catch // by column: the catches there
	BelowFits           bool      // both rows have the same blocks, so columns match
}

// Twin is an earlier row that begins like this one.
type Twin struct {
	Row     int  `json:"row"`      // from 1
	PartsAt int  `json:"parts_at"` // the stitch of the repeat at which they part, from 1; 0 when alike throughout
	Caught  bool `json:"-"`        // alike throughout, its catches too
}

// Sheet tells all about a row, from 1; a finished row shows the catches that were made.
func (p *Piece) Sheet(row int) *Sheet {
	r := p.rowShown(row)
	s := &Sheet{
		shownRow: r, Piece: p.State.Setup.Name, Row: row, Of: p.Rows(), Round: !p.Layout.Fabric.Flat,
		Turned: row == 1 || p.Row(row-1).FromLeft != r.FromLeft, Part: r.partPlace(), Yarns: p.Layout.Fabric.Yarns,
		Blocks: r.blocks(), Notes: r.notes(), Twin: r.twin(), Reasons: r.reasons(),
	}
	if r.finished {
		s.Changes = r.fates(r.changes, p.yarnName)
	} else if row == p.State.Row+1 {
		s.Begun = p.State.Begun
	}
	s.Strips, s.Motions = r.strips(s.Distinct()), r.motions(s.Distinct())
	s.Moves = slices.DeleteFunc(slices.Clone(r.YarnPlaces), r.keptSeat)
	if s.Part.Begins {
		s.Cautions = p.State.Setup.Cautions()
	}
	return s
}

func (r *shownRow) partPlace() PartPlace {
	l := r.piece.Layout
	ref, lead := l.Parts[r.Part], l.lead(r.Part)
	from, to := l.planOf(r.Part)
	return PartPlace{
		Name: ref.Title(), Number: r.Part - from + 1, Of: to - from, Copy: r.Copy, Times: max(1, lead.Times),
		Row: r.ChartRow, Rows: lead.Rows, Plain: ref.IsPlain(), Begins: r.begins(),
	}
}

// begins reports whether the row is the first of its part.
func (r *shownRow) begins() bool { return r.number == 1 || r.piece.Row(r.number-1).Part != r.Part }

// keptSeat reports whether a seat of the row is no news: the last row below in which the yarn was
// worked, or another had its place, has the yarn in the same seat. It takes time linear in the rows since.
func (r *heldRow) keptSeat(s YarnPlace) bool {
	for row := r.number - 1; row >= 1; row-- {
		seats := r.piece.YarnPlaces(row)
		if at := slices.IndexFunc(seats, func(below YarnPlace) bool { return below.Yarn == s.Yarn }); at >= 0 {
			return seats[at] == s
		}
		taken := func(below YarnPlace) bool { return below.Place == s.Place && s.Place != hold.SameSide }
		if slices.ContainsFunc(seats, taken) {
			return false
		}
	}
	return false
}

func (r *shownRow) strips(catches []Catch) Strips {
	st := Strips{Row: r.Cells, Caught: r.byColumn(catches)}
	if r.number == 1 {
		return st
	}
	below := r.piece.rowShown(r.number - 1)
	st.Below, st.CaughtBelow = below.Cells, below.byColumn(distinct(below.blocks()))
	st.BelowFits = r.Fits(below.Course)
	return st
}

// StitchOf is the stitch of a catch in the pattern of the row.
func (r *shownRow) StitchOf(c Catch) floats.Stitch {
	return r.InOrder()[r.Block(c.Block).From+c.Stitch-1]
}

// byColumn sorts catches of a repeat by the column they stand in.
func (r *shownRow) byColumn(catches []Catch) [][]Catch {
	columns := make([][]Catch, len(r.Cells))
	for _, c := range catches {
		at := r.StitchOf(c).Column
		columns[at] = append(columns[at], c)
	}
	return columns
}

// twin finds the twin of the row among the rows of its chart below it, in the same copy upward. A row of several
// blocks has one that is alike throughout or none.
func (r *shownRow) twin() *Twin {
	p, several := r.piece, len(r.Blocks) > 1
	if p.Layout.Chart(r.Part) == nil || several && len(p.byUse(r.number)) < 2 {
		return nil
	}
	first := r.number - r.ChartRow + 1
	for p.Row(first).Part != r.Part {
		first++ // rows below a change of chart are not of it
	}
	var rows [][]chart.Cell
	for row := first; row <= r.number; row++ {
		rows = append(rows, cellsOf(p.Row(row)))
	}
	other, partsAt := chart.Twin(rows)
	if other == 0 || several && partsAt > 0 {
		return nil
	}
	other += first - 1
	return &Twin{Row: other, PartsAt: partsAt, Caught: partsAt == 0 && slices.Equal(r.shown, p.Shown(other))}
}

// cellsOf are the stitches of a row in knitting order, its blocks parted by an empty cell.
func cellsOf(r *floats.Row) []chart.Cell {
	var cells []chart.Cell
	for i := range r.Blocks {
		if i > 0 {
			cells = append(cells, chart.Cell{Yarn: chart.NoYarn})
		}
		for _, st := range r.StitchesOf(&r.Blocks[i]) {
			cells = append(cells, chart.Cell{Yarn: st.Yarn, Technique: st.Technique})
		}
	}
	return cells
}
