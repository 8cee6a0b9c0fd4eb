package chart

import (
	"fmt"
	"slices"
	"strings"
)

// Beside returns c with other at its left, so that c is knitted first on a right-side row.
// Title and comments are those of c. It refuses charts of different heights and charts
// that use a symbol or a yarn name for different things.
func (c *Chart) Beside(other *Chart) (*Chart, error) {
	if c.Height() != other.Height() {
		return nil, fmt.Errorf("the charts have %d and %d rows; crop or repeat one until they are the same", c.Height(), other.Height())
	}
	joined, rows, err := c.merge(other, c.Width()+other.Width(), c.Height())
	if err != nil {
		return nil, err
	}
	for i := range joined.Rows {
		joined.Rows[i] = append(joined.Rows[i], rows[i]...)
	}
	return joined, nil
}

// Stack returns c with other above it, otherwise as Beside, for charts of the same width.
func (c *Chart) Stack(other *Chart) (*Chart, error) {
	if c.Width() != other.Width() {
		return nil, fmt.Errorf("the charts have %d and %d columns; crop or repeat one until they are the same", c.Width(), other.Width())
	}
	joined, rows, err := c.merge(other, c.Width(), c.Height()+other.Height())
	if err != nil {
		return nil, err
	}
	joined.Rows = append(joined.Rows, rows...)
	return joined, nil
}

// Into returns ground with c set into it: column 1 of row 1 of c comes to the given column and
// row, both from 1. An empty cell of c leaves the ground as it is. Title and comments are those
// of c, the background is that of ground. It refuses what Beside does, and to pass the border.
func (c *Chart) Into(ground *Chart, column, row int) (*Chart, error) {
	if column < 1 || row < 1 || column-1+c.Width() > ground.Width() || row-1+c.Height() > ground.Height() {
		return nil, fmt.Errorf("%s by %s do not fit at column %d, row %d of %s by %s; %s",
			Counted(c.Width(), "column"), Counted(c.Height(), "row"), column, row, Counted(ground.Width(), "column"), Counted(ground.Height(), "row"), c.room(ground))
	}
	joined, rows, err := ground.merge(c, ground.Width(), ground.Height())
	if err != nil {
		return nil, err
	}
	for i, symbols := range rows {
		for j, symbol := range symbols {
			if symbol != joined.Empty {
				joined.Rows[row-1+i][column-1+j] = symbol
			}
		}
	}
	joined.Title, joined.Comments, joined.Empty = c.Title, slices.Clone(c.Comments), ground.Empty
	joined.Background = slices.Clone(ground.Background)
	if was := ground.BackgroundYarns(); !slices.Equal(was, joined.BackgroundYarns()) {
		for _, i := range was {
			joined.Background = append(joined.Background, ground.Yarns[i].Symbol)
		}
	}
	return joined, nil
}

func (c *Chart) room(ground *Chart) string {
	if c.Width() > ground.Width() || c.Height() > ground.Height() {
		return "crop the one, or repeat the other first"
	}
	return fmt.Sprintf("columns 1 to %d and rows 1 to %d have room for it", ground.Width()-c.Width()+1, ground.Height()-c.Height()+1)
}

// Counted joins a count and a noun: "1 row", "2 rows", "3 stitches".
func Counted(n int, noun string) string { return fmt.Sprintf("%d %s", n, Plural(noun, n)) }

// Plural is the form of a noun that goes with a number.
func Plural(noun string, n int) string {
	switch {
	case n == 1:
		return noun
	case strings.HasSuffix(noun, "h"):
		return noun + "es"
	}
	return noun + "s"
}

// merge returns a copy of c, to become as many columns and rows, that declares what either chart
// does, and the rows of other in its symbols. Symbols keep their meaning, but for the empty cell:
// other takes the one of c. The background yarns of either are background, declared or not.
func (c *Chart) merge(other *Chart, columns, rows int) (*Chart, [][]rune, error) {
	if err := Fits(columns, rows); err != nil {
		return nil, nil, err
	}
	joined, theirs := c.copyChart(), other.copyChart()
	joined.Background = joinedBackground(c, other)
	if err := joined.agreeOnEmpty(theirs); err != nil {
		return nil, nil, err
	}
	for _, y := range theirs.Yarns {
		switch known, err := joined.knows(y.Symbol, theirs); {
		case err != nil:
			return nil, nil, err
		case !known:
			if i := slices.IndexFunc(joined.Yarns, func(mine Yarn) bool { return strings.EqualFold(mine.Name, y.Name) }); i >= 0 {
				return nil, nil, fmt.Errorf("the yarn %s is %c in one chart and %c in the other; change the other with strandwise chart turn FILE --yarn %[3]c=%[2]c -o NEW-FILE",
					y.Name, joined.Yarns[i].Symbol, y.Symbol)
			}
			joined.Yarns = append(joined.Yarns, y)
		}
	}
	for _, s := range theirs.Stitches {
		switch known, err := joined.knows(s.Symbol, theirs); {
		case err != nil:
			return nil, nil, err
		case !known:
			joined.Stitches = append(joined.Stitches, s)
		}
	}
	return joined, theirs.Rows, nil
}

// joinedBackground is nil where neither chart declares one and both have the same.
func joinedBackground(c, other *Chart) []rune {
	var symbols []rune
	for _, from := range []*Chart{c, other} {
		for _, i := range from.BackgroundYarns() {
			if symbol := from.Yarns[i].Symbol; !slices.Contains(symbols, symbol) {
				symbols = append(symbols, symbol)
			}
		}
	}
	if len(c.Background)+len(other.Background) == 0 && len(symbols) == 1 {
		return nil
	}
	return symbols
}

func (c *Chart) agreeOnEmpty(other *Chart) error {
	switch {
	case c.Empty == 0:
		c.Empty = other.Empty
	case other.Empty != 0:
		other.exchange(map[rune]rune{other.Empty: c.Empty})
	}
	other.Empty = c.Empty
	if c.Empty != 0 && (c.means(c.Empty) != "" || other.means(c.Empty) != "") {
		return fmt.Errorf("%c is an empty cell in one chart and a stitch in the other; change the symbol in one of them", c.Empty)
	}
	return nil
}

// means says what a symbol stands for, "" when it is no yarn or stitch.
func (c *Chart) means(symbol rune) string {
	if i := c.YarnIndex(symbol); i != NoYarn {
		return fmt.Sprintf("%s %s", c.Yarns[i].Name, c.Yarns[i].Color)
	}
	for _, s := range c.Stitches {
		if s.Symbol == symbol {
			return fmt.Sprintf("%s in %c", s.Technique, s.Yarn)
		}
	}
	return ""
}

// knows reports whether c has a symbol of other; it must mean the same.
func (c *Chart) knows(symbol rune, other *Chart) (bool, error) {
	mine, theirs := c.means(symbol), other.means(symbol)
	if mine != "" && mine != theirs {
		return false, fmt.Errorf("%c is %s in one chart and %s in the other; change one of them with strandwise chart turn FILE --yarn %[1]c=SYMBOL -o NEW-FILE", symbol, mine, theirs)
	}
	return mine != "", nil
}
