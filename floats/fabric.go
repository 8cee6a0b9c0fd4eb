package floats

import (
	"errors"
	"fmt"
	"slices"

	"strandwise/chart"
)

// Part is one part of a piece, worked before the parts that follow it: a chart
// repeated round and upward, or plain rows of one yarn.
type Part struct {
	Name    string       // what the row sheet calls it
	Chart   *chart.Chart // nil for plain rows
	Repeats int          // copies side by side, at least 1
	Times   int          // copies upward, at least 1
	Plain   rune         // symbol of the yarn of plain rows
	Rows    int          // how many plain rows
}

// Work is how the knitter works the piece as far as the lie of the floats goes.
type Work struct {
	Flat   bool // worked back and forth; otherwise in the round
	Mirror bool // works from the right needle to the left: every row is read the other way
}

// Row is one row of the fabric.
type Row struct {
	*Course
	Copy     int // which copy upward, from 1
	ChartRow int // row of the chart (or of the plain rows), from 1
}

// Course is what rows share that have the same stitches and are worked the same way, as
// those that repeat a chart row upward. It is not changed once the fabric is laid.
type Course struct {
	Part      int          // index into the parts given to Lay
	Cells     []chart.Cell // one repeat, index 0 = column 1; Yarn indexes Fabric.Yarns
	Repeats   int
	FromLeft  bool // worked from the highest column down to column 1
	WrongSide bool // worked with the wrong side facing

	order []Stitch // one repeat in knitting order
	uses  []extent // by yarn, as far as yarns are used
}

// extent is where a yarn is used in one repeat of a row: its first and last stitch
// in knitting order from 1, or zeros.
type extent struct{ first, last int }

// Columns is the number of columns over all repeats, empty cells included.
func (c *Course) Columns() int { return len(c.Cells) * c.Repeats }

// Stitches is the number of stitches over all repeats.
func (c *Course) Stitches() int { return len(c.order) * c.Repeats }

// RepeatStitches is the number of stitches in one repeat.
func (c *Course) RepeatStitches() int { return len(c.order) }

// Stitch is one stitch of a row, met in knitting order.
type Stitch struct {
	Column    int // over all repeats, from 0 = column 1
	Yarn      int // index into Fabric.Yarns
	Technique chart.Technique
}

// InOrder returns the stitches of one repeat in knitting order, columns counted
// within the repeat. Rows worked alike share the slice: it is not to be changed.
func (c *Course) InOrder() []Stitch { return c.order }

// inOrder settles what follows from the course's cells.
func (c Course) inOrder() *Course {
	c.order, c.uses = make([]Stitch, 0, len(c.Cells)), nil
	for i := range c.Cells {
		column := i
		if c.FromLeft {
			column = len(c.Cells) - 1 - i
		}
		cell := c.Cells[column]
		if cell.IsEmpty() {
			continue
		}
		c.order = append(c.order, Stitch{column, cell.Yarn, cell.Technique})
		for len(c.uses) <= cell.Yarn {
			c.uses = append(c.uses, extent{})
		}
		e := &c.uses[cell.Yarn]
		if e.last = len(c.order); e.first == 0 {
			e.first = e.last
		}
	}
	return &c
}

// use is where a yarn is used in one repeat.
func (c *Course) use(yarn int) extent {
	if yarn < len(c.uses) {
		return c.uses[yarn]
	}
	return extent{}
}

// ColumnOf gives the column over all repeats (from 0) of a stitch of repeat number
// rep (from 0 in knitting order) that stands in the given column of its repeat.
func (c *Course) ColumnOf(rep, column int) int {
	if c.FromLeft {
		rep = c.Repeats - 1 - rep
	}
	return rep*len(c.Cells) + column
}

// Fabric is a piece laid out row by row in knitting order.
type Fabric struct {
	Yarns []chart.Yarn // matched across parts by symbol
	Rows  []Row
	Flat  bool
}

// Yarn returns the index of the yarn with the given symbol, or chart.NoYarn.
func (f *Fabric) Yarn(symbol rune) int {
	return slices.IndexFunc(f.Yarns, func(y chart.Yarn) bool { return y.Symbol == symbol })
}

// ClashError tells that two parts use one symbol for different yarns.
type ClashError struct {
	Symbol      rune
	First, Then chart.Yarn
	FirstPart   string
	ThenPart    string
}

func (e *ClashError) Error() string {
	return fmt.Sprintf("yarn %c is %s %s in %s but %s %s in %s", e.Symbol,
		e.First.Name, e.First.Color, e.FirstPart, e.Then.Name, e.Then.Color, e.ThenPart)
}

// PlainYarnError tells that plain rows name a yarn that no chart declares.
type PlainYarnError struct{ Symbol rune }

func (e *PlainYarnError) Error() string {
	return fmt.Sprintf("plain rows name yarn %c, which no chart of the piece declares", e.Symbol)
}

// NoStitchesError tells that plain rows would have no stitches: the row below leaves
// none, or at the start the first chart row uses none up.
type NoStitchesError struct{ Part string }

func (e *NoStitchesError) Error() string {
	return fmt.Sprintf("part %s would have rows of no stitches: the chart beside it leaves or uses up none", e.Part)
}

// ErrNoChart tells that a piece has no chart, so its plain rows have no width.
var ErrNoChart = errors.New("a piece needs at least one chart")

// Lay lays the parts out in knitting order. In the round every row is worked from column 1
// leftward; flat, odd rows are right-side rows worked the same way and even rows wrong-side rows
// worked back. A mirror knitter works every row the other way. Plain rows are as wide as the
// stitches the row below leaves, those at the start as the first chart row uses up.
func Lay(parts []Part, w Work) (*Fabric, error) {
	f := &Fabric{Flat: w.Flat}
	index, err := f.gatherYarns(parts)
	if err != nil {
		return nil, err
	}
	width, err := startWidth(parts)
	if err != nil {
		return nil, err
	}
	laid := map[worked]*Course{}
	for p, part := range parts {
		if part.Chart == nil {
			if width == 0 {
				return nil, &NoStitchesError{part.Name}
			}
			f.layPart(Course{Part: p, Repeats: 1}, 1, f.plainRows(part, width), laid, w)
			continue
		}
		rows := chartRows(part.Chart, index[p])
		f.layPart(Course{Part: p, Repeats: part.Repeats}, part.Times, rows, laid, w)
		width = made(rows[len(rows)-1]) * part.Repeats
	}
	return f, nil
}

// worked is the cells of rows that share a course, by the first, and the way they are worked.
type worked struct {
	cells    *chart.Cell
	fromLeft bool
}

// layPart lays rows above the others, so many times, and settles which way each is worked.
func (f *Fabric) layPart(like Course, times int, rows [][]chart.Cell, laid map[worked]*Course, w Work) {
	for i := range times * len(rows) {
		c := like
		c.Cells = rows[i%len(rows)]
		c.WrongSide = w.Flat && len(f.Rows)%2 == 1
		c.FromLeft = c.WrongSide != w.Mirror
		key := worked{&c.Cells[0], c.FromLeft}
		if laid[key] == nil {
			laid[key] = c.inOrder()
		}
		f.Rows = append(f.Rows, Row{laid[key], i/len(rows) + 1, i%len(rows) + 1})
	}
}

func (f *Fabric) plainRows(part Part, width int) [][]chart.Cell {
	cells := slices.Repeat([]chart.Cell{{Yarn: f.Yarn(part.Plain), Technique: chart.Knit}}, width)
	return slices.Repeat([][]chart.Cell{cells}, part.Rows)
}

// match is the index of the yarn with a yarn's symbol, which becomes the last if there is none.
func (f *Fabric) match(y chart.Yarn) int {
	at := f.Yarn(y.Symbol)
	if at == chart.NoYarn {
		at, f.Yarns = len(f.Yarns), append(f.Yarns, y)
	}
	return at
}

// gatherYarns fills f.Yarns and returns, per part, the index of each chart yarn.
func (f *Fabric) gatherYarns(parts []Part) ([][]int, error) {
	index, from := make([][]int, len(parts)), []string{}
	for p, part := range parts {
		if part.Chart == nil {
			continue
		}
		for _, y := range part.Chart.Yarns {
			at := f.match(y)
			if at == len(from) {
				from = append(from, part.Name)
			}
			if f.Yarns[at] != y {
				return nil, &ClashError{y.Symbol, f.Yarns[at], y, from[at], part.Name}
			}
			index[p] = append(index[p], at)
		}
	}
	for _, part := range parts {
		if part.Chart == nil && f.Yarn(part.Plain) == chart.NoYarn {
			return nil, &PlainYarnError{part.Plain}
		}
	}
	return index, nil
}

// startWidth is the number of stitches cast on, as far as plain rows at the start need to
// know it.
func startWidth(parts []Part) (int, error) {
	at := slices.IndexFunc(parts, func(p Part) bool { return p.Chart != nil })
	if at < 0 {
		return 0, ErrNoChart
	}
	used := 0
	for _, c := range parts[at].Chart.Cells(1) {
		if !c.IsEmpty() {
			used += c.Technique.Uses()
		}
	}
	return used * parts[at].Repeats, nil
}

func chartRows(c *chart.Chart, index []int) [][]chart.Cell {
	rows := c.CellRows()
	for _, cells := range rows {
		for j, cell := range cells {
			if !cell.IsEmpty() {
				cells[j].Yarn = index[cell.Yarn]
			}
		}
	}
	return rows
}

func made(cells []chart.Cell) int {
	n := 0
	for _, c := range cells {
		if !c.IsEmpty() {
			n += c.Technique.Makes()
		}
	}
	return n
}

// Splice is the fabric of lower's first rows with upper's rows above them: a piece whose charts
// were changed in mid-piece. Yarns keep lower's indexes and upper's new ones follow; parts of
// upper are counted on from partOffset. The rows of upper above the first from ones keep their
// direction. It returns a *ClashError when a symbol stands for different yarns.
func Splice(lower *Fabric, from int, upper *Fabric, partOffset int) (*Fabric, error) {
	f := &Fabric{Flat: lower.Flat, Yarns: slices.Clone(lower.Yarns)}
	index := make([]int, len(upper.Yarns))
	for i, y := range upper.Yarns {
		at := f.match(y)
		if f.Yarns[at] != y {
			return nil, &ClashError{y.Symbol, f.Yarns[at], y, "the rows below", "the new rows"}
		}
		index[i] = at
	}
	f.Rows = append(f.Rows, lower.Rows[:min(from, len(lower.Rows))]...)
	f.Rows = append(f.Rows, changed(upper.Rows[min(from, len(upper.Rows)):], func(c *Course) {
		c.Part += partOffset
		c.Cells = slices.Clone(c.Cells)
		for i, cell := range c.Cells {
			if !cell.IsEmpty() {
				c.Cells[i].Yarn = index[cell.Yarn]
			}
		}
	})...)
	return f, nil
}

// changed is the rows with each course changed, which is a copy but for its cells.
func changed(rows []Row, change func(*Course)) []Row {
	rows = slices.Clone(rows)
	known := map[*Course]*Course{}
	for i, r := range rows {
		if known[r.Course] == nil {
			c := *r.Course
			change(&c)
			known[r.Course] = c.inOrder()
		}
		rows[i].Course = known[r.Course]
	}
	return rows
}

// The largest piece that is begun or tried: more than any hand knits. A larger one that is
// in a store already still opens.
const (
	MostRows     = 2_000
	MostStitches = 4_000_000 // over all repeats
)

// TooLargeError tells that parts make a piece of more rows or stitches than it may have.
type TooLargeError struct{ Rows, Stitches int }

func (e *TooLargeError) Error() string {
	if e.Rows > MostRows {
		return fmt.Sprintf("%d rows are more than the %d a piece may have", e.Rows, MostRows)
	}
	return fmt.Sprintf("%d stitches are more than the %d a piece may have", e.Stitches, MostStitches)
}

// CheckSize returns a *TooLargeError for parts that make too large a piece. It counts
// cells, and lays nothing out.
func CheckSize(parts []Part) error {
	width, rows, stitches := 1, 0, 0
	for _, p := range parts {
		n := p.Rows
		if p.Chart != nil {
			n, width = p.Chart.Height()*p.Times, p.Chart.Width()*p.Repeats
		}
		rows, stitches = rows+n, stitches+n*width
		if rows > MostRows || stitches > MostStitches {
			return &TooLargeError{rows, stitches}
		}
	}
	return nil
}
