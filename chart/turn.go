package chart

import (
	"cmp"
	"fmt"
	"slices"
)

func (c *Chart) copyChart() *Chart {
	turned := *c
	turned.Comments = slices.Clone(c.Comments)
	turned.Yarns = slices.Clone(c.Yarns)
	turned.Stitches = slices.Clone(c.Stitches)
	turned.Background = slices.Clone(c.Background)
	turned.Rows = make([][]rune, len(c.Rows))
	for i, row := range c.Rows {
		turned.Rows[i] = slices.Clone(row)
	}
	return &turned
}

func (c *Chart) exchange(by map[rune]rune) {
	for _, row := range c.Rows {
		for i, symbol := range row {
			if other, ok := by[symbol]; ok {
				row[i] = other
			}
		}
	}
}

// Mirror returns the chart with left and right exchanged. Where it has a symbol for the other
// lean of a decrease or increase in the same yarn the grid uses that, else the symbol is
// declared anew. Mirrored twice, every cell is what it was.
func (c *Chart) Mirror() *Chart {
	turned := c.copyChart()
	by := map[rune]rune{}
	for i, s := range c.Stitches {
		leans := s.Technique.Mirrored()
		partner := slices.IndexFunc(c.Stitches, func(o StitchSymbol) bool {
			return by[o.Symbol] == 0 && o.Yarn == s.Yarn && o.Technique == leans
		})
		switch {
		case leans == s.Technique || by[s.Symbol] != 0:
		case partner < 0: // none, or each has its own: copies of a piece are known by these bytes
			turned.Stitches[i].Technique = leans
		default:
			other := c.Stitches[partner].Symbol
			by[s.Symbol], by[other] = other, s.Symbol
		}
	}
	turned.exchange(by)
	for _, row := range turned.Rows {
		slices.Reverse(row)
	}
	return turned
}

// UpsideDown returns the chart turned by half a turn. Worked that way and held the other way
// up, the fabric shows the old picture. It refuses a chart with shaped stitches: worked from
// its other end a decrease would have to become an increase.
func (c *Chart) UpsideDown() (*Chart, error) {
	for row := 1; row <= c.Height(); row++ {
		for i, cell := range c.Cells(row) {
			if cell.Technique.Shaped() {
				return nil, fmt.Errorf("row %d, column %d is %s: shaping cannot be turned upside down; crop the rows without shaping first",
					row, i+1, cell.Technique)
			}
		}
	}
	turned := c.copyChart()
	turned.turnAround()
	return turned, nil
}

func (c *Chart) turnAround() {
	slices.Reverse(c.Rows)
	for _, row := range c.Rows {
		slices.Reverse(row)
	}
}

// Repeat returns the chart laid side by side and upward. It refuses counts below 1, and a
// result that does not fit.
func (c *Chart) Repeat(across, up int) (*Chart, error) {
	if across < 1 || up < 1 {
		return nil, fmt.Errorf("cannot repeat %d times across and %d times up: both are at least 1", across, up)
	}
	if err := cmp.Or(Fits(across, up), Fits(c.Width()*across, c.Height()*up)); err != nil {
		return nil, err
	}
	turned := c.copyChart()
	turned.Rows = slices.Repeat(turned.Rows, up)
	for i, row := range turned.Rows {
		turned.Rows[i] = slices.Repeat(row, across)
	}
	return turned, nil
}

// Fits refuses a chart of more than MaxColumns or MaxRows.
func Fits(columns, rows int) error {
	if columns <= MaxColumns && rows <= MaxRows {
		return nil
	}
	return fmt.Errorf("the result would have %d columns and %d rows; a chart has at most %d and %d",
		columns, rows, MaxColumns, MaxRows)
}

// Crop returns the rows and columns from first to last, from 1, both ends in. It refuses ends
// that are not in the chart, and a row of only empty cells. All yarns stay declared.
func (c *Chart) Crop(firstRow, lastRow, firstColumn, lastColumn int) (*Chart, error) {
	if err := within("row", firstRow, lastRow, c.Height()); err != nil {
		return nil, err
	}
	if err := within("column", firstColumn, lastColumn, c.Width()); err != nil {
		return nil, err
	}
	turned := c.copyChart()
	turned.Rows = turned.Rows[firstRow-1 : lastRow]
	for i, row := range turned.Rows {
		turned.Rows[i] = row[firstColumn-1 : lastColumn]
		if c.Empty != 0 && allEmpty(turned.Rows[i], c.Empty) {
			return nil, fmt.Errorf("row %d has only empty cells in columns %d to %d; take more columns or leave the row out",
				firstRow+i, firstColumn, lastColumn)
		}
	}
	return turned, nil
}

func within(what string, first, last, size int) error {
	if first < 1 || last > size || first > last {
		return fmt.Errorf("%ss %d:%d are not in the chart: it has %ss 1:%d, the smaller number first", what, first, last, what, size)
	}
	return nil
}
