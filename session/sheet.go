package session

import (
	"slices"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session/hold"
)

// Sheet is all that a knitter is told of one row, as facts; how it looks is decided
// where it is printed. Stitches are counted in knitting order within one repeat,
// from 1, unless said otherwise.
type Sheet struct {
	Piece   string
	Row, Of int // from 1; rows of the piece
	Round   bool
	Turned  bool // the other way than the row below, or the first row
	Part    PartPlace
	Method  floats.Method
	Limit   int
	Begun   int // stitches worked of it, over all repeats; 0 when not known

	Yarns   []chart.Yarn    // the yarns of the piece; all else tells yarns by index
	Order   []floats.Stitch // one repeat of each block, in knitting order
	Letters []Catch         // the catches the row is shown with, over all repeats
	Blocks  []RowBlock      // what the row is made of, in knitting order
	Changes []string        // of a finished row, what was made otherwise than it had been shown

	Total, After int            // stitches of the row over all repeats, and left on the needle after it
	Shaping      []floats.Place // stitches of a repeat that are not plain knit, in order
	Strips       Strips
	YarnPlaces   []YarnPlace
	Moves        []YarnPlace // seats that differ from the row below; all of them in the first row
	Notes        []RowNote
	Twin         *Twin
	Motions      []SheetMotion
	Cautions     []string
	Reasons      []string // why catches are not where the plan has them; of rows to come

	*floats.Course      // the row itself: what is told of it is in the fields above
	mirror         bool // the knitter works from the right needle to the left
}

// Worked lists the yarns that are worked in the row, in order of their first stitch.
func (s *Sheet) Worked() []chart.Yarn {
	var worked []chart.Yarn
	for _, st := range s.Order {
		if y := s.Yarns[st.Yarn]; !slices.Contains(worked, y) {
			worked = append(worked, y)
		}
	}
	return worked
}

// Shapes reports whether the row adds or takes stitches anywhere.
func (s *Sheet) Shapes() bool {
	return slices.ContainsFunc(s.Order, func(st floats.Stitch) bool { return st.Technique.Uses() != 1 || st.Technique.Makes() != 1 })
}

// Twists reports whether a catch on a stitch of the row, from 1, is made as a twist.
func (s *Sheet) Twists(stitch int) bool { return twisted(s.Method, s.Stitch(stitch)) }

// PlaceWords tells a stitch of the row, from 1, as Piece.PlaceWords does.
func (s *Sheet) PlaceWords(stitch int) string { return placeWords(s.Course, stitch) }

// Pattern is where a stitch of the row, from 1, stands in Order.
func (s *Sheet) Pattern(stitch int) int { return s.Course.InPattern(stitch) }

// PatternPlace is the place of a stitch of Order in the first repeat of its block.
func (s *Sheet) PatternPlace(at int) floats.Place {
	for _, b := range s.Blocks {
		if at < len(b.Order) {
			return floats.Place{Block: b.Number, Repeat: 1, Stitch: at + 1}
		}
		at -= len(b.Order)
	}
	panic("session: a stitch beyond the pattern of its row")
}

// Block is the block of the row with a number.
func (s *Sheet) Block(number int) *RowBlock {
	at := slices.IndexFunc(s.Blocks, func(b RowBlock) bool { return b.Number == number })
	return &s.Blocks[at]
}

// InPattern is where a stitch of a block's repeat, from 1, stands in Order.
func (s *Sheet) InPattern(block, stitch int) int { return s.Course.Block(block).From + stitch - 1 }

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

// Strips are the row and the row below as the chart shows them, one repeat of each block: index 0
// is column 1, the rightmost.
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

// Sheet tells all about a row. Rows count from 1 and are at most Rows; a finished
// row shows the catches that were made, and tells in words which were planned.
func (p *Piece) Sheet(row int) *Sheet {
	r := p.Row(row)
	s := &Sheet{
		Piece: p.State.Setup.Name, Row: row, Of: p.Rows(), Round: !p.Layout.Fabric.Flat,
		Part:   p.partPlace(row),
		Method: p.State.GripAt(row).FloatMethod(), Limit: p.State.SegmentAt(row).Limit,
		Yarns: p.Layout.Fabric.Yarns, Order: r.InOrder(), Course: r.Course,
		Total: r.Stitches(), After: r.Makes(), mirror: p.State.Setup.Mirror,
	}
	if row == p.State.Row+1 {
		s.Begun = p.State.Begun
	}
	if row > p.State.Row {
		s.Reasons = p.reasons(row)
	} else {
		s.Changes = p.Fates(row)
	}
	s.Turned = row == 1 || p.Row(row-1).FromLeft != r.FromLeft
	s.Letters = p.Letters(row)
	s.Blocks = p.blocks(row)
	s.fillShaping()
	s.Strips = p.strips(row, s.Distinct())
	s.YarnPlaces = p.YarnPlaces(row)
	s.Moves = p.moves(row, s.YarnPlaces)
	s.Notes = p.notes(row)
	s.Twin = p.twin(row)
	s.Motions = p.motions(row, s.Distinct())
	if s.Part.Begins {
		s.Cautions = p.State.Setup.Cautions()
	}
	return s
}

func (p *Piece) partPlace(row int) PartPlace {
	r := p.Row(row)
	ref := p.Layout.Parts[r.Part]
	lead := p.Layout.lead(r.Part)
	from, to := p.Layout.planOf(r.Part)
	place := PartPlace{
		Name: ref.Title(), Number: r.Part - from + 1, Of: to - from, Copy: r.Copy, Times: max(1, lead.Times),
		Row: r.ChartRow, Rows: lead.Rows, Plain: ref.IsPlain(),
	}
	place.Begins = row == 1 || p.Row(row-1).Part != r.Part
	return place
}

// moves are the seats that are news: a yarn that comes to a place, whoever had it
// before. One that comes back to the place it left free is none.
func (p *Piece) moves(row int, seats []YarnPlace) []YarnPlace {
	return slices.DeleteFunc(slices.Clone(seats), func(s YarnPlace) bool { return p.keptSeat(row, s) })
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

func (p *Piece) strips(row int, catches []Catch) Strips {
	r := p.Row(row)
	st := Strips{Row: r.Cells, Caught: byColumn(r, catches)}
	if row == 1 {
		return st
	}
	below := p.Row(row - 1)
	st.Below, st.CaughtBelow = below.Cells, byColumn(below, distinct(p.blocks(row-1)))
	st.BelowFits = r.Fits(below.Course)
	return st
}

// byColumn sorts catches of a repeat by the column they stand in.
func byColumn(r *floats.Row, catches []Catch) [][]Catch {
	columns := make([][]Catch, len(r.Cells))
	for _, c := range catches {
		at := r.InOrder()[r.Block(c.Block).From+c.Stitch-1].Column
		columns[at] = append(columns[at], c)
	}
	return columns
}

// fillShaping lists the stitches that are not plain: shaped ones, and those worked
// otherwise than the rest of the row.
func (s *Sheet) fillShaping() {
	for _, b := range s.Blocks {
		for i, st := range b.Order {
			if st.Technique != chart.Knit {
				s.Shaping = append(s.Shaping, floats.Place{Block: b.Number, Stitch: i + 1})
			}
		}
	}
}

// twin finds the twin of a row among the rows of its chart below it, in the same
// copy upward.
func (p *Piece) twin(row int) *Twin {
	r := p.Row(row)
	c := p.Layout.Chart(r.Part)
	if c == nil {
		return nil
	}
	first := row - r.ChartRow // the row before the copy's first
	lowest := r.ChartRow      // of the chart; rows below a change of chart are not of it
	for lowest > 1 && p.Row(first+lowest-1).Part == r.Part {
		lowest--
	}
	var other, partsAt int
	if len(r.Blocks) > 1 {
		other = p.wholeTwin(row, first+lowest) - first
	} else {
		other, partsAt = c.Twin(r.ChartRow, lowest, func(chartRow int) bool {
			return chartRow >= lowest && p.Row(first+chartRow).FromLeft
		})
	}
	if other <= 0 {
		return nil
	}
	alike := partsAt == 0 && slices.Equal(p.Shown(row), p.Shown(first+other))
	return &Twin{Row: first + other, PartsAt: partsAt, Caught: alike}
}

// wholeTwin is the nearest row below a row of blocks that is alike throughout, from the lowest row
// up; 0 where there is none. Rows of one yarn have none.
func (p *Piece) wholeTwin(row, lowest int) int {
	r := p.Row(row)
	sameBlock := func(a, b floats.Block) bool { return a.Repeats == b.Repeats && a.Stitches == b.Stitches }
	if len(p.byUse(row)) < 2 {
		return 0
	}
	for other := row - 1; other >= lowest; other-- {
		if o := p.Row(other); slices.EqualFunc(r.Blocks, o.Blocks, sameBlock) && slices.EqualFunc(r.InOrder(), o.InOrder(), workedAlike) {
			return other
		}
	}
	return 0
}
