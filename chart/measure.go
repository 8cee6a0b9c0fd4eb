package chart

import (
	"fmt"
	"math"
	"slices"
)

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

// Warning says that a row uses up another number of stitches than the row below left. The
// chart can be worked all the same: stitches may come from elsewhere, or rest.
type Warning struct {
	Row  int `json:"row"`  // from 1; the row below is Row-1
	Uses int `json:"uses"` // stitches the row uses up
	Left int `json:"left"` // stitches the row below leaves
}

// String is the warning as a sentence without a stop.
func (w Warning) String() string {
	return fmt.Sprintf("row %d uses up %s, but row %d leaves %d", w.Row, Counted(w.Uses, "stitch"), w.Row-1, w.Left)
}

// Warnings returns all warnings, lowest row first.
func (c *Chart) Warnings() []Warning {
	var warnings []Warning
	left := 0
	for row := 1; row <= c.Height(); row++ {
		uses, leaves := c.StitchSums(row)
		if row > 1 && uses != left {
			warnings = append(warnings, Warning{row, uses, left})
		}
		left = leaves
	}
	return warnings
}

// StitchSums returns the stitches that one repeat of a row, from 1, uses up and leaves.
func (c *Chart) StitchSums(row int) (uses, leaves int) {
	for _, cell := range c.Cells(row) {
		if !cell.IsEmpty() {
			uses += cell.Technique.Uses()
			leaves += cell.Technique.Makes()
		}
	}
	return uses, leaves
}

// When two yarns are too alike to tell apart in the fabric. Both limits are our
// choice, not a standard: neighboring stitches are small and the light at home
// poor, so well above the difference of about 1 that can just be seen.
const (
	AlikeDeltaE    = 10 // CIEDE2000
	AlikeLightness = 10 // L*, for the gray test: as in a gray photograph
)

// Pair compares two yarns of a chart.
type Pair struct {
	A, B      int     // indexes into Yarns, A < B
	DeltaE    float64 // CIEDE2000, 0 when equal
	Lightness float64 // difference in L*, 0 to 100, never negative
	Contrast  float64 // WCAG 2.2 ratio, 1 to 21: made for screens, a rough scale here
}

// TooAlike reports whether the colors can hardly be told apart.
func (p Pair) TooAlike() bool { return p.DeltaE < AlikeDeltaE }

// Muddy reports whether the yarns are so alike in lightness that the pattern is
// lost in a gray photograph, and from some steps away, whatever their hues.
func (p Pair) Muddy() bool { return p.Lightness < AlikeLightness }

// Pairs compares every two yarns that are worked, in the order of Yarns.
func (c *Chart) Pairs() []Pair {
	var pairs []Pair
	counts := c.StitchCounts()
	for b := range c.Yarns {
		for a := range b {
			if counts[a] > 0 && counts[b] > 0 {
				first, second := c.Yarns[a].Color, c.Yarns[b].Color
				pairs = append(pairs, Pair{
					A: a, B: b,
					DeltaE:    DeltaE(first.Lab(), second.Lab()),
					Lightness: math.Abs(first.Lightness() - second.Lightness()),
					Contrast:  ContrastRatio(first, second),
				})
			}
		}
	}
	return pairs
}
