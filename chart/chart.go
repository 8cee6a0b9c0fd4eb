// Package chart holds a stranded-colorwork chart: its yarns, its grid of
// stitches, the text format it is kept in, and what can be measured on the chart
// alone (counts, color differences). It knows nothing of knitters, needles,
// repeats or floats.
//
// A chart is drawn as the right side looks. Row 1 is the lowest row and column 1
// the rightmost stitch, the order in which a right-side row is read.
package chart

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// NoYarn is the Yarn of an empty cell: a place in the grid that holds no stitch.
const NoYarn = -1

// Yarn is one yarn of a chart.
type Yarn struct {
	Symbol rune   // the character that stands for it in the grid
	Name   string // what the row sheet calls it; may have spaces
	Color  Color
}

// MarshalText is a yarn as answers to programs tell it: its symbol, nothing of no yarn.
func (y Yarn) MarshalText() ([]byte, error) {
	return []byte(strings.Trim(string(y.Symbol), "\x00")), nil
}

// StitchSymbol declares a grid character for a stitch that is not a plain knit.
type StitchSymbol struct {
	Symbol    rune
	Yarn      rune // symbol of the yarn
	Technique Technique
}

// Cell is one place of the grid.
type Cell struct {
	Yarn      int // index into Chart.Yarns, or NoYarn
	Technique Technique
}

// IsEmpty reports whether the cell holds no stitch.
func (c Cell) IsEmpty() bool { return c.Yarn == NoYarn }

// Chart is a chart. Parse makes valid ones; code that builds one by hand calls Validate.
type Chart struct {
	Comments   []string // header comments without the leading "#", in order
	Title      string
	Yarns      []Yarn
	Stitches   []StitchSymbol
	Empty      rune     // symbol of an empty cell, 0 when the chart declares none
	Background []rune   // yarn symbols as declared; empty means the default
	Rows       [][]rune // symbols; Rows[0] is row 1 (the lowest), Rows[r][0] is column 1 (the rightmost)
}

// Width is the number of columns.
func (c *Chart) Width() int {
	if len(c.Rows) == 0 {
		return 0
	}
	return len(c.Rows[0])
}

const shownTitle = 48

// ShownTitle is the title as it is shown and as parts are named by it: a long one is cut and
// ends with an ellipsis, at most 48 characters in all.
func (c *Chart) ShownTitle() string {
	title := []rune(c.Title)
	if len(title) <= shownTitle {
		return c.Title
	}
	return strings.TrimRight(string(title[:shownTitle-1]), " ") + "…"
}

// Height is the number of rows.
func (c *Chart) Height() int { return len(c.Rows) }

// YarnIndex returns the index in Yarns of the yarn with the symbol, or NoYarn.
func (c *Chart) YarnIndex(symbol rune) int {
	return slices.IndexFunc(c.Yarns, func(y Yarn) bool { return y.Symbol == symbol })
}

// Cells returns one row in chart order: index 0 is column 1, the rightmost. Row counts from 1.
func (c *Chart) Cells(row int) []Cell {
	meanings := map[rune]Cell{c.Empty: {Yarn: NoYarn}}
	for i, y := range c.Yarns {
		meanings[y.Symbol] = Cell{Yarn: i}
	}
	for _, s := range c.Stitches {
		meanings[s.Symbol] = Cell{Yarn: c.YarnIndex(s.Yarn), Technique: s.Technique}
	}
	cells := make([]Cell, len(c.Rows[row-1]))
	for i, symbol := range c.Rows[row-1] {
		cells[i] = meanings[symbol]
	}
	return cells
}

// BackgroundYarns returns the indexes of the background yarns, in declared order;
// all others are pattern yarns. Undeclared, it is the yarn with most stitches,
// the first declared of them when two are level.
func (c *Chart) BackgroundYarns() []int {
	if len(c.Background) > 0 {
		yarns := make([]int, 0, len(c.Background))
		for _, symbol := range c.Background {
			yarns = append(yarns, c.YarnIndex(symbol))
		}
		return yarns
	}
	counts := c.StitchCounts()
	return []int{slices.Index(counts, slices.Max(counts))}
}

// StitchCounts returns the number of stitches of each yarn of Yarns in one repeat.
func (c *Chart) StitchCounts() []int {
	counts := make([]int, len(c.Yarns))
	for row := 1; row <= c.Height(); row++ {
		for _, cell := range c.Cells(row) {
			if !cell.IsEmpty() {
				counts[cell.Yarn]++
			}
		}
	}
	return counts
}

// String is the chart as a chart file, comments first: the inverse of Parse for a valid chart.
func (c *Chart) String() string {
	var b strings.Builder
	for _, comment := range c.Comments {
		b.WriteString("#" + comment + "\n")
	}
	if c.Title != "" {
		b.WriteString("title: " + c.Title + "\n")
	}
	for _, y := range c.Yarns {
		fmt.Fprintf(&b, "yarn: %c %s %s\n", y.Symbol, y.Name, y.Color)
	}
	for _, s := range c.Stitches {
		fmt.Fprintf(&b, "stitch: %c %c %s\n", s.Symbol, s.Yarn, s.Technique)
	}
	if c.Empty != 0 {
		fmt.Fprintf(&b, "empty: %c\n", c.Empty)
	}
	if len(c.Background) > 0 {
		b.WriteString("background: " + spoken(c.Background) + "\n")
	}
	b.WriteString("rows:\n")
	for _, row := range slices.Backward(c.Rows) {
		for _, symbol := range slices.Backward(row) {
			b.WriteRune(symbol)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// Same reports whether two charts are the same, with all in the same order.
func (c *Chart) Same(other *Chart) bool {
	return slices.Equal(c.Comments, other.Comments) &&
		c.Title == other.Title &&
		slices.Equal(c.Yarns, other.Yarns) &&
		slices.Equal(c.Stitches, other.Stitches) &&
		c.Empty == other.Empty &&
		slices.Equal(c.Background, other.Background) &&
		slices.EqualFunc(c.Rows, other.Rows, slices.Equal[[]rune])
}

// Validate checks a chart built by code: its text must parse to an equal chart. The error is
// the *Faults of that text, or says what the text cannot hold. It takes linear time.
func (c *Chart) Validate() error {
	for _, s := range c.Stitches {
		if int(s.Technique) >= len(techniques) {
			return fmt.Errorf("the stitch %c has technique number %d, which does not exist", s.Symbol, s.Technique)
		}
	}
	read, err := Parse("", []byte(c.String()))
	if err != nil {
		return err
	}
	if !c.Same(read) {
		return errors.New("the chart cannot be written as text: its title, a comment or a yarn name has blanks at an end, double blanks or a line break, or a row has a blank cell")
	}
	return nil
}
