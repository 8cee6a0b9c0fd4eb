package draw

import (
	"fmt"
	"io"
	"math"
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

func (r *TextRow) caught(column int) bool { return r.Caught != nil && r.Caught[column] }

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
	best, least := 0, math.Inf(1)
	for n := 1; n <= 4; n++ {
		shape := float64(n) * terminalAspect * height / width
		if off := max(shape, 1/shape); off < least {
			best, least = n, off
		}
	}
	return best
}

// Letters draws a chart, the top row first, with its row numbers and a ruler of every fifth
// column. One that is too wide for the look is drawn in parts of whole fives, column 1 first.
// For a screen reader each row is a sentence.
func (c TextChart) Letters(w io.Writer, look paint.Look) error {
	t := &chartText{terminal{look: look, yarns: c.Yarns}, c}
	if look.Plain {
		for i := range c.Rows {
			t.sentence(i+1, &c.Rows[i])
		}
	} else {
		t.drawn()
	}
	_, err := io.WriteString(w, t.String())
	return err
}

type chartText struct {
	terminal
	c TextChart
}

func (t *chartText) drawn() {
	widest, labels := 0, len(fmt.Sprint(len(t.c.Rows)))
	for _, r := range t.c.Rows {
		widest = max(widest, len(r.Symbols))
	}
	t.inParts(0, widest, (t.look.Width-2*labels-2)/t.c.Chars, 5, func(from, to int) {
		if to-from < widest {
			t.say(fmt.Sprintf("Columns %d to %d:", from+1, to))
		}
		for i := len(t.c.Rows) - 1; i >= 0; i-- {
			t.row(i+1, &t.c.Rows[i], from, to, labels)
		}
		t.quiet(ruler(from, to, t.c.Chars, labels+1))
	})
	if t.c.Key != "" {
		t.line("")
		t.quiet(t.wrapped("  ", t.look.Marks.Catch+" "+t.c.Key)...)
	}
}

// row draws the columns of a row from (counted from 0) up to to, and below them its catches.
func (t *chartText) row(number int, r *TextRow, from, to, labels int) {
	label := fmt.Sprint(number)
	left, right := strings.Repeat(" ", labels), " "+label
	if r.FromLeft {
		left, right = fmt.Sprintf("%*s", labels, label), ""
	}
	columns := fromLeft(from, min(to, len(r.Symbols)), false)
	t.line(left + " " + t.colored(columns, func(c int) int { return r.Cells[c].Yarn }, func(c int) string { return t.stitch(r, c) }) + right)
	marks := ""
	for _, c := range columns {
		mark := " "
		if r.caught(c) {
			mark = t.look.Marks.Catch
		}
		marks += paint.Pad(mark, t.c.Chars)
	}
	if strings.TrimSpace(marks) != "" {
		t.line(strings.Repeat(" ", labels+1) + marks)
	}
}

// stitch is one stitch as so many characters of its symbol; a symbol two columns
// wide counts twice.
func (t *chartText) stitch(r *TextRow, column int) string {
	text := string(r.Symbols[column])
	if r.Cells[column].IsEmpty() {
		text = t.look.Marks.Blank
	}
	return paint.Pad(strings.Repeat(text, max(1, t.c.Chars/max(1, paint.Width(text)))), t.c.Chars)
}

// ruler numbers column 1 and every fifth, each number ending over its column, behind
// a margin.
func ruler(from, to, chars, margin int) string {
	line := []byte(strings.Repeat(" ", margin+(to-from)*chars))
	for column := from + 1; column <= to; column++ {
		number := fmt.Sprint(column)
		start := margin + (to-column+1)*chars - len(number)
		if start >= 0 && (column%5 == 0 || column == 1) {
			copy(line[start:], number)
		}
	}
	return string(line)
}

// sentence tells a row as runs in the order in which it is knitted.
func (t *chartText) sentence(number int, r *TextRow) {
	var runs, caught []string
	last, count := chart.NoYarn, 0
	run := func(yarn int) {
		if count > 0 && yarn != last {
			runs = append(runs, fmt.Sprintf("%d %s", count, t.yarns[last].Name))
			count = 0
		}
		last = yarn
		count++
	}
	for _, c := range fromLeft(0, len(r.Cells), !r.FromLeft) {
		if !r.Cells[c].IsEmpty() {
			run(r.Cells[c].Yarn)
		}
		if r.caught(c) {
			caught = append(caught, fmt.Sprint(c+1))
		}
	}
	run(chart.NoYarn)
	text := fmt.Sprintf("Row %d: %s", number, strings.Join(runs, ", "))
	if len(caught) > 0 {
		text += "; caught in column " + strings.Join(caught, ", ")
	}
	t.say(text + ".")
}
