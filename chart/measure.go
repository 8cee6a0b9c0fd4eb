package chart

import "slices"

// Direction says from which side a row, from 1, is knitted: true when column 1 comes last.
type Direction func(row int) (fromLeft bool)

// InTheRound knits every row from column 1.
func InTheRound(int) bool { return false }

// BackAndForth knits odd rows from column 1 and even rows towards it.
func BackAndForth(row int) bool { return row%2 == 0 }

// Run is a number of neighboring stitches in one yarn.
type Run struct {
	Yarn   int // index into Chart.Yarns
	Length int // stitches, at least 1
}

// InOrder returns the stitches of a row, from 1, in knitting order, without empty cells.
func (c *Chart) InOrder(row int, fromLeft bool) []Cell {
	stitches := slices.DeleteFunc(c.Cells(row), Cell.IsEmpty)
	if fromLeft {
		slices.Reverse(stitches)
	}
	return stitches
}

// Runs returns the runs of a row, from 1, in knitting order. An empty cell parts none.
func (c *Chart) Runs(row int, fromLeft bool) []Run {
	var runs []Run
	for _, stitch := range c.InOrder(row, fromLeft) {
		if last := len(runs) - 1; last >= 0 && runs[last].Yarn == stitch.Yarn {
			runs[last].Length++
		} else {
			runs = append(runs, Run{stitch.Yarn, 1})
		}
	}
	return runs
}

// YarnsIn returns the indexes of the yarns a row, from 1, is worked in, in ascending order.
func (c *Chart) YarnsIn(row int) []int {
	var yarns []int
	for _, stitch := range c.InOrder(row, false) {
		yarns = append(yarns, stitch.Yarn)
	}
	slices.Sort(yarns)
	return slices.Compact(yarns)
}

// CrowdedRows returns the rows worked in more yarns than there are hands, lowest first.
func (c *Chart) CrowdedRows() []int {
	var rows []int
	for row := 1; row <= c.Height(); row++ {
		if len(c.YarnsIn(row)) >= 3 {
			rows = append(rows, row)
		}
	}
	return rows
}
