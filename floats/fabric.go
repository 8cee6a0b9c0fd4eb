package floats

import (
	"fmt"
	"slices"

	"strandwise/chart"
)

// Row is one row of the fabric.
type Row struct {
	*Course
	Copy     int // which copy upward of its widest block, from 1
	ChartRow int // row of that block's chart (or of the plain rows), from 1
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

// Splice is lower's first rows with the rows of upper from there on: a piece whose charts were changed
// in mid-piece. Yarns keep lower's indexes and upper's new ones follow; parts of upper are counted on
// from partOffset. It returns a *ClashError when a symbol stands for different yarns.
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

// The largest piece that is begun or tried: more than any hand knits. A stored one may be larger.
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

// checkSize counts cells, and lays nothing out. Its error is a *TooLargeError.
func checkSize(parts []Part) error {
	width, rows, stitches := 1, 0, 0
	for p := range parts {
		part, n := &parts[p], parts[p].Rows
		if !part.isPlain() {
			width, n = 0, 0
			for _, b := range part.blocks() {
				width += b.Steek
				if b.Chart != nil {
					width, n = width+b.Chart.Width()*b.Repeats, max(n, b.Chart.Height()*b.Times)
				}
			}
		}
		rows, stitches = rows+n, stitches+n*width
		if width += part.Adds; rows > MostRows || stitches > MostStitches {
			return &TooLargeError{rows, stitches}
		}
	}
	return nil
}
