package picture

import (
	"slices"
	"strconv"
)

// Knitters number rows and columns along a chart's edges, all of them or every second or fifth. A line of cells along
// an edge is left out when it holds whole numbers and blanks only and the numbers count its cells, up or down by one
// a cell; in the corners of a line without blanks may stand what the numbers are. No stitch can be meant: a digit is
// no symbol, and a color has six digits.

func withoutNumbers(cells [][]tableCell, report *Report) [][]tableCell {
	cells = edgesOff(cells, func(c tableCell, up bool) {
		report.note("column numbers left out: line %d%s", c.line, from(up, "the left"))
	})
	return transposed(edgesOff(transposed(cells), func(c tableCell, up bool) {
		report.note("row numbers left out: cell %d of each line%s", c.at, from(up, "the top"))
	}))
}

// edgesOff leaves out the first and last line where they are numbers, and tells the first cell of each and the way.
func edgesOff(lines [][]tableCell, tell func(first tableCell, up bool)) [][]tableCell {
	for _, last := range []bool{true, false} {
		if len(lines) == 0 {
			break
		}
		edge, others := lines[0], lines[1:]
		if last {
			edge, others = lines[len(lines)-1], lines[:len(lines)-1]
		}
		if step := counts(edge); step != 0 {
			tell(edge[0], step > 0)
			lines = others
		}
	}
	return lines
}

func from(other bool, edge string) string {
	if !other {
		return ""
	}
	return ", which counts from " + edge + "; the chart counts from the right and from the bottom all the same"
}

func transposed(lines [][]tableCell) [][]tableCell {
	if len(lines) == 0 {
		return nil
	}
	columns := make([][]tableCell, len(lines[0]))
	for _, line := range lines {
		for i, c := range line {
			columns[i] = append(columns[i], c)
		}
	}
	return columns
}

// counts is 1 where the cells are numbers that go up, -1 where they go down, and 0 where they are none. A single
// number among blanks goes down, as charts count.
func counts(cells []tableCell) int {
	blank := func(c tableCell) bool { return c.text == "" }
	if step := countsAll(cells); step != 0 || len(cells) < 4 || slices.ContainsFunc(cells[1:len(cells)-1], blank) {
		return step
	}
	return countsAll(cells[1 : len(cells)-1])
}

func countsAll(cells []tableCell) int {
	step, at, before := 0, -1, 0
	for i, c := range cells {
		if c.text == "" {
			continue
		}
		n, err := strconv.ParseUint(c.text, 10, 16)
		if err != nil || len(c.text) > 4 {
			return 0
		}
		if at >= 0 {
			d := int(n) - before
			if d != i-at && d != at-i || step != 0 && d != step*(i-at) {
				return 0
			}
			step = d / (i - at)
		}
		at, before = i, int(n)
	}
	if at >= 0 && step == 0 && len(cells) > 2 {
		return -1
	}
	return step
}
