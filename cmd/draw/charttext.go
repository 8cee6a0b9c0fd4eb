package draw

import (
	"fmt"
	"io"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
)

// TextChart is rows of stitches to draw on a terminal.
type TextChart struct {
	Yarns []chart.Yarn
	Rows  []TextRow // the lowest first
	Chars int       // characters a stitch, at least 1; see CharsFor
	Key   string    // what the sign of a catch means; may be empty
}

// TextRow is one row of a chart. Index 0 of the lists is column 1, the rightmost.
type TextRow struct {
	Symbols  []rune
	Cells    []chart.Cell
	Caught   []bool // by column; nil when no catch is made
	FromLeft bool   // worked from the highest column: its number stands at the left
}

// TextOf is a chart for the terminal. Flat work numbers the even rows at the left, where they
// begin.
func TextOf(c *chart.Chart, flat bool) TextChart {
	t := TextChart{Yarns: c.Yarns, Chars: 1}
	for i, symbols := range c.Rows {
		t.Rows = append(t.Rows, TextRow{Symbols: symbols, Cells: c.Cells(i + 1), FromLeft: flat && i%2 == 1})
	}
	return t
}

// terminalAspect is how wide a character of a terminal is for its height (common
// practice, no source).
const terminalAspect = 0.5

// CharsFor is how many characters wide a stitch is to be, 1 to 4, so that its shape
// on a terminal comes nearest to the given width and height.
func CharsFor(width, height float64) int {
	best, least := 0, 0.0
	for n := 1; n <= 4; n++ {
		shape := float64(n) * terminalAspect * height / width
		if off := max(shape, 1/shape); n == 1 || off < least {
			best, least = n, off
		}
	}
	return best
}

// Letters draws a chart, the top row first, with its row numbers and a ruler of every fifth
// column. One that is too wide for the look is drawn in parts of whole fives, column 1 first.
// For a screen reader each row is a sentence.
func (c TextChart) Letters(w io.Writer, look paint.Look) error {
	t := &chartText{terminal{w: w, look: look, yarns: c.Yarns}, c}
	if look.Plain {
		t.sentences()
		return t.err
	}
	widest, labels := 0, len(fmt.Sprint(len(c.Rows)))
	for _, r := range c.Rows {
		widest = max(widest, len(r.Symbols))
	}
	t.inParts(widest, (look.Width-2*labels-2)/c.Chars, 5, func(from, to int) {
		if to-from < widest {
			t.say(fmt.Sprintf("Columns %d to %d:", from+1, to), nil)
		}
		t.part(from, to, labels)
	})
	if c.Key != "" {
		t.line("")
		for _, line := range paint.Wrap("  ", paint.Spans(strings.Fields(look.Marks.Catch+" "+c.Key)...), look.Width) {
			t.line(look.Paint.Quiet(line))
		}
	}
	return t.err
}

type chartText struct {
	terminal
	c TextChart
}

// part draws the columns from (counted from 0) up to to.
func (t *chartText) part(from, to, labels int) {
	for i := len(t.c.Rows) - 1; i >= 0; i-- {
		r := t.c.Rows[i]
		left, right := strings.Repeat(" ", labels), ""
		if r.FromLeft {
			left = fmt.Sprintf("%*d", labels, i+1)
		} else {
			right = fmt.Sprintf(" %d", i+1)
		}
		end := min(to, len(r.Symbols))
		t.line(left + " " + t.colored(from, end, false, func(c int) int { return r.Cells[c].Yarn }, func(c int) string { return t.stitch(r, c) }) + right)
		if marks := t.marks(r, from, end); strings.TrimSpace(marks) != "" {
			t.line(strings.Repeat(" ", labels+1) + marks)
		}
	}
	t.line(t.look.Paint.Quiet(ruler(from, to, t.c.Chars, labels+1)))
}

// stitch is one stitch as so many characters of its symbol; a symbol two columns
// wide counts twice.
func (t *chartText) stitch(r TextRow, column int) string {
	text := string(r.Symbols[column])
	if r.Cells[column].IsEmpty() {
		text = t.look.Marks.Blank
	}
	if paint.Width(text) >= t.c.Chars {
		return text
	}
	return paint.Pad(strings.Repeat(text, t.c.Chars/max(1, paint.Width(text))), t.c.Chars)
}

// marks is the line of catches below a row.
func (t *chartText) marks(r TextRow, from, to int) string {
	var line strings.Builder
	for at := to - 1; at >= from; at-- {
		mark := " "
		if r.Caught != nil && r.Caught[at] {
			mark = t.look.Marks.Catch
		}
		line.WriteString(paint.Pad(mark, t.c.Chars))
	}
	return line.String()
}

// ruler numbers column 1 and every fifth, each number ending over its column, behind
// a margin.
func ruler(from, to, chars, margin int) string {
	line := []byte(strings.Repeat(" ", margin+(to-from)*chars))
	for column := from + 1; column <= to; column++ {
		if column%5 != 0 && column != 1 {
			continue
		}
		number := fmt.Sprint(column)
		if start := margin + (to-column+1)*chars - len(number); start >= 0 {
			copy(line[start:], number)
		}
	}
	return string(line)
}

// sentences tells each row as runs, the first row first, since that is the order it is knitted
// in.
func (t *chartText) sentences() {
	for i, r := range t.c.Rows {
		var stitches []int
		var caught []string
		for n := range r.Cells {
			at := n
			if r.FromLeft {
				at = len(r.Cells) - 1 - n
			}
			stitches = append(stitches, r.Cells[at].Yarn)
			if r.Caught != nil && r.Caught[at] {
				caught = append(caught, fmt.Sprint(at+1))
			}
		}
		text := fmt.Sprintf("Row %d: %s", i+1, t.runs(stitches))
		if len(caught) > 0 {
			text += "; caught in column " + strings.Join(caught, ", ")
		}
		t.say(text+".", nil)
	}
}
