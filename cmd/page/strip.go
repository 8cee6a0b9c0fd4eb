package page

import (
	"fmt"

	"strandwise/cmd/document"
)

// line is a row of a table that shows a strip.
type line struct {
	Class, Head, Tail string
	Cells             []cell
}

type cell struct{ Class, Text string }

// widest is how many stitches stand beside each other on a phone: our choice.
const widest = 30

// tables show a strip, cut into pieces of nearly the same width.
func (v *view) tables(s document.Strip) [][]line {
	n := len(s.Columns)
	count := (n + widest - 1) / widest
	cuts := make([]int, count+1)
	for i := range cuts {
		cuts[i] = i * n / max(1, count)
	}
	var all [][]line
	for _, piece := range s.CutAt(cuts) {
		all = append(all, v.lines(s, piece))
	}
	return all
}

func (v *view) lines(s document.Strip, p document.StripPiece) []line {
	row := v.stitches("cells high", s.Number, p.Row)
	switch {
	case s.FromLeft && p.First:
		row.Head += " →"
	case p.First:
		row.Tail = "←"
	}
	lines := append(append([]line{row}, v.signs(p.Row, v.Scene.Caught)...), laid("ruler", "", p.Row, numbered))
	for i, below := range p.Below {
		lines = append(append(lines, v.stitches("cells", s.Number-1-i, below)), v.signs(below, nil)...)
	}
	return lines
}

func laid[T any](class, head string, all []T, show func(T) cell) line {
	l := line{Class: class, Head: head}
	for _, one := range all {
		l.Cells = append(l.Cells, show(one))
	}
	return l
}

func (v *view) stitches(class string, number int, columns []document.Column) line {
	return laid(class, fmt.Sprint(number), columns, func(c document.Column) (here cell) {
		if !c.IsEmpty() {
			here = cell{yarnClass(c.Yarn), string(v.Scene.Document.Yarns[c.Yarn].Symbol)}
		}
		if c.Worked {
			here.Class += " worked"
		}
		if c.Chosen {
			here.Class += " chosen"
		}
		return here
	})
}

func yarnClass(yarn int) string { return fmt.Sprintf("yarn y%d", yarn+1) }

// signs are the lines under the stitches, on the color of the yarn that is caught where that is known, by sign.
func (v *view) signs(columns []document.Column, caught map[string]int) []line {
	var lines []line
	for _, signs := range document.SignLines(columns) {
		lines = append(lines, laid("signs", "", signs, func(sign string) cell {
			if yarn, is := caught[sign]; is {
				return cell{yarnClass(yarn), sign}
			}
			return cell{Text: sign}
		}))
	}
	return lines
}

func numbered(c document.Column) cell {
	switch {
	case c.Block > 0:
		return cell{Text: fmt.Sprintf("%d/", c.Block)}
	case c.Stitch > 0 && c.Stitch%5 == 0:
		return cell{Text: fmt.Sprint(c.Stitch)}
	}
	return cell{}
}
