package page

import (
	"fmt"

	"strandwise/chart"
	"strandwise/cmd/document"
)

// Strip is a strip with what its cells are shown by.
type Strip struct {
	document.Strip
	yarns  []chart.Yarn
	caught map[string]int // by sign: the yarn that is caught
}

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

// lines are those of the columns from and to, counted from 0 at column 1 of the chart, the last not included.
func (s Strip) lines(from, to int) []line {
	columns := make([]int, 0, to-from)
	for c := to - 1; c >= from; c-- {
		columns = append(columns, c)
	}
	row := s.stitches("cells high", s.Number, s.Cells, columns)
	switch {
	case s.FromLeft && to == len(s.Cells):
		row.Head += " →"
	case !s.FromLeft && from == 0:
		row.Tail = "←"
	}
	for i, c := range columns {
		if s.Worked != nil && s.Worked[c] {
			row.Cells[i].Class += " worked"
		}
		if s.Chosen != nil && s.Chosen[c] {
			row.Cells[i].Class += " chosen"
		}
	}
	lines := append(append([]line{row}, signs(s.Signs, columns, s.caught)...), s.ruler(columns))
	for i, below := range s.Below {
		lines = append(append(lines, s.stitches("cells", s.Number-1-i, below.Cells, columns)), signs(below.Signs, columns, nil)...)
	}
	return lines
}

func laid(class, head string, columns []int, show func(column int) cell) line {
	l := line{Class: class, Head: head}
	for _, c := range columns {
		l.Cells = append(l.Cells, show(c))
	}
	return l
}

func (s Strip) stitches(class string, number int, cells []chart.Cell, columns []int) line {
	return laid(class, fmt.Sprint(number), columns, func(c int) cell {
		if cells[c].IsEmpty() {
			return cell{}
		}
		return cell{yarnClass(cells[c].Yarn), string(s.yarns[cells[c].Yarn].Symbol)}
	})
}

func yarnClass(yarn int) string { return fmt.Sprintf("yarn y%d", yarn+1) }

// signs are the lines under the stitches, on the color of the yarn that is caught where that is known.
func signs(under [][]string, columns []int, caught map[string]int) []line {
	high := 0
	for _, c := range columns {
		if under != nil {
			high = max(high, len(under[c]))
		}
	}
	lines := make([]line, high)
	for i := range lines {
		lines[i] = laid("signs", "", columns, func(c int) (here cell) {
			if i < len(under[c]) {
				here.Text = under[c][i]
			}
			if yarn, is := caught[here.Text]; is {
				here.Class = yarnClass(yarn)
			}
			return here
		})
	}
	return lines
}

func (s Strip) ruler(columns []int) line {
	numbers := s.Numbers()
	return laid("ruler", "", columns, func(c int) cell {
		switch n, block := numbers[c], s.Blocks[c]; {
		case block > 0:
			return cell{Text: fmt.Sprintf("%d/", block)}
		case n > 0 && n%5 == 0:
			return cell{Text: fmt.Sprint(n)}
		}
		return cell{}
	})
}
