package page

import (
	"fmt"
	"slices"

	"strandwise/chart"
	"strandwise/cmd/document"
)

// Strip is a strip with what its cells are shown by.
type Strip struct {
	document.Strip
	yarns  []chart.Yarn
	caught map[string]int // by sign: the yarn that is caught
}

// line is a line of a strip.
type line struct {
	Class, Head, Tail string
	Cells             []cell
}

type cell struct{ Class, Text string }

// widest is how many stitches stand beside each other on a phone: our choice.
const widest = 30

// pieces cuts a strip into tables of nearly the same width, the piece worked first on top. Within each
// column 1 of the chart stands at the right.
func pieces(s Strip) [][]line {
	n := len(s.Cells)
	count := (n + widest - 1) / widest
	var all [][]line
	for i := range count {
		from, to := i*n/count, (i+1)*n/count // columns counted from where the row begins
		if s.FromLeft {
			from, to = n-to, n-from
		}
		if s.Only == 0 || s.Only > from && s.Only <= to {
			all = append(all, s.lines(from, to))
		}
	}
	return all
}

// lines are those of the columns from and to, the last not included.
func (s Strip) lines(from, to int) []line {
	columns := make([]int, 0, to-from)
	for c := to - 1; c >= from; c-- {
		columns = append(columns, c)
	}
	row := s.cells("cells high", s.Number, s.Cells, columns, s.Worked)
	switch {
	case s.FromLeft && to == len(s.Cells):
		row.Head += " →"
	case !s.FromLeft && from == 0:
		row.Tail = "←"
	}
	for i, c := range columns {
		if s.Chosen != nil && s.Chosen[c] {
			row.Cells[i].Class += " chosen"
		}
	}
	lines := append([]line{row}, s.signs(s.Signs, columns, s.caught)...)
	lines = append(lines, s.ruler(columns))
	for i, below := range s.Below {
		lines = append(lines, s.cells("cells", s.Number-1-i, below.Cells, columns, nil))
		lines = append(lines, s.signs(below.Signs, columns, nil)...)
	}
	return lines
}

func (s Strip) cells(class string, number int, cells []chart.Cell, columns []int, worked []bool) line {
	l := line{Class: class, Head: fmt.Sprint(number)}
	for _, c := range columns {
		here := cell{}
		if !cells[c].IsEmpty() {
			here = cell{fmt.Sprintf("yarn y%d", cells[c].Yarn+1), string(s.yarns[cells[c].Yarn].Symbol)}
		}
		if worked != nil && worked[c] {
			here.Class += " worked"
		}
		l.Cells = append(l.Cells, here)
	}
	return l
}

// signs are what stands under the stitches, as many lines as there are signs under one, letters on the color of the
// yarn that is caught where that is known.
func (s Strip) signs(signs [][]string, columns []int, caught map[string]int) []line {
	var lines []line
	for i := 0; signs != nil; i++ {
		l := line{Class: "signs"}
		for _, c := range columns {
			here := cell{}
			if i < len(signs[c]) {
				here.Text = signs[c][i]
				if yarn, is := caught[here.Text]; is {
					here.Class = fmt.Sprintf("yarn y%d", yarn+1)
				}
			}
			l.Cells = append(l.Cells, here)
		}
		if !slices.ContainsFunc(l.Cells, func(c cell) bool { return c.Text != "" }) {
			break
		}
		lines = append(lines, l)
	}
	return lines
}

// ruler numbers every fifth stitch, and blocks where they begin.
func (s Strip) ruler(columns []int) line {
	l, numbers := line{Class: "ruler"}, s.Numbers()
	for _, c := range columns {
		here := cell{}
		switch n, block := numbers[c], s.Blocks[c]; {
		case block > 0:
			here.Text = fmt.Sprintf("%d/", block)
		case n > 0 && n%5 == 0:
			here.Text = fmt.Sprint(n)
		}
		l.Cells = append(l.Cells, here)
	}
	return l
}
