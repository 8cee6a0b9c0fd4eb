package draw

import (
	"fmt"
	"io"
	"math"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
)

// terminal gathers lines of stitches as characters, the top row first.
type terminal struct {
	strings.Builder
	look  paint.Look
	yarns []chart.Yarn
}

func (t *terminal) line(text string) { t.WriteString(strings.TrimRight(text, " ") + "\n") }

func (t *terminal) quiet(lines ...string) {
	for _, line := range lines {
		if line = strings.TrimRight(line, " "); line != "" {
			t.line(t.look.Paint.Quiet(line))
		}
	}
}

func (t *terminal) wrapped(prefix, text string) []string {
	return paint.Wrap(prefix, strings.Fields(text), t.look.Width)
}

func (t *terminal) say(text string) {
	for _, line := range t.wrapped("", text) {
		t.line(line)
	}
}

// inParts draws columns from..to-1 at once where there is room for all, else in parts of whole fives or tens.
func (t *terminal) inParts(from, to, room, whole int, part func(from, to int)) {
	if room < to-from {
		room = max(whole, room/whole*whole)
	}
	for begin := from; begin < to; begin += room {
		if begin > from {
			t.line("")
		}
		part(begin, min(begin+room, to))
	}
}

// fromLeft lists the columns from..to-1 as they are seen: the highest first, on the wrong side last.
func fromLeft(from, to int, wrong bool) []int {
	columns := make([]int, max(0, to-from))
	for i := range columns {
		columns[i] = to - 1 - i
		if wrong {
			columns[i] = from + i
		}
	}
	return columns
}

type ruler []byte

func blanks(width int) ruler { return ruler(strings.Repeat(" ", width+1)) }

// set writes a text that ends at a place, where there is room about it.
func (r ruler) set(last int, text string) {
	from := last + 1 - len(text)
	if from >= 0 && last+1 < len(r) && strings.TrimSpace(string(r[max(0, from-1):last+2])) == "" {
		copy(r[from:], text)
	}
}

// colored joins what stands on columns. Neighboring stitches of one yarn are colored together.
func (t *terminal) colored(columns []int, yarn func(column int) int, text func(column int) string) string {
	line := ""
	for len(columns) > 0 {
		y, run := yarn(columns[0]), ""
		for len(columns) > 0 && yarn(columns[0]) == y {
			run += text(columns[0])
			columns = columns[1:]
		}
		if y != chart.NoYarn {
			run = t.look.Paint.Yarn(run, t.yarns[y].Color)
		}
		line += run
	}
	return line
}

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

// TextOf is a chart for the terminal. Flat work numbers the even rows at the left, where they begin.
func TextOf(c *chart.Chart, flat bool) TextChart {
	t := TextChart{Yarns: c.Yarns, Chars: 1}
	for i, symbols := range c.Rows {
		t.Rows = append(t.Rows, TextRow{Symbols: symbols, Cells: c.Cells(i + 1), FromLeft: flat && i%2 == 1})
	}
	return t
}

// CharsFor is how many characters, 1 to 4, come nearest to the shape of a stitch so wide and high.
func CharsFor(width, height float64) int {
	const aspect = 0.5 // of a character, its width by its height (common practice, no source)
	best, least := 0, math.Inf(1)
	for n := 1; n <= 4; n++ {
		shape := float64(n) * aspect * height / width
		if off := max(shape, 1/shape); off < least {
			best, least = n, off
		}
	}
	return best
}

// Letters draws a chart, the top row first, with its row numbers and a ruler of every fifth column; one too wide
// for the look in parts of whole fives, column 1 first. For a screen reader each row is a sentence.
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
	widest, margin := 0, len(fmt.Sprint(len(t.c.Rows)))+1
	for _, r := range t.c.Rows {
		widest = max(widest, len(r.Symbols))
	}
	t.inParts(0, widest, (t.look.Width-2*margin)/t.c.Chars, 5, func(from, to int) {
		if to-from < widest {
			t.say(fmt.Sprintf("Columns %d to %d:", from+1, to))
		}
		for i := len(t.c.Rows) - 1; i >= 0; i-- {
			t.row(i+1, &t.c.Rows[i], fromLeft(from, min(to, len(t.c.Rows[i].Symbols)), false), margin)
		}
		numbers := blanks(margin + (to-from)*t.c.Chars)
		for i, c := range fromLeft(from, to, false) {
			if c == 0 || c%5 == 4 {
				numbers.set(margin+(i+1)*t.c.Chars-1, fmt.Sprint(c+1))
			}
		}
		t.quiet(string(numbers))
	})
	if t.c.Key != "" {
		t.line("")
		t.quiet(t.wrapped("  ", t.look.Marks.Catch+" "+t.c.Key)...)
	}
}

// row draws columns of a row, counted from 0, as they stand on the screen, and below them its catches.
func (t *chartText) row(number int, r *TextRow, columns []int, margin int) {
	left, right, marks := "", fmt.Sprintf(" %d", number), ""
	if r.FromLeft {
		left, right = fmt.Sprintf("%*d ", margin-1, number), ""
	}
	stitches := t.colored(columns, func(c int) int { return r.Cells[c].Yarn }, func(c int) string { return t.stitch(r, c) })
	t.line(fmt.Sprintf("%*s", margin, left) + stitches + right)
	for _, c := range columns {
		mark := " "
		if r.caught(c) {
			mark = t.look.Marks.Catch
		}
		marks += paint.Pad(mark, t.c.Chars)
	}
	if strings.TrimSpace(marks) != "" {
		t.line(strings.Repeat(" ", margin) + marks)
	}
}

// stitch is so many characters of its symbol; one two columns wide counts twice.
func (t *chartText) stitch(r *TextRow, column int) string {
	text := string(r.Symbols[column])
	if r.Cells[column].IsEmpty() {
		text = t.look.Marks.Blank
	}
	return paint.Pad(strings.Repeat(text, max(1, t.c.Chars/max(1, paint.Width(text)))), t.c.Chars)
}

func (t *chartText) sentence(number int, r *TextRow) {
	var counts, yarns []int
	var runs, caught []string
	for _, c := range fromLeft(0, len(r.Cells), !r.FromLeft) {
		if last := len(yarns) - 1; last >= 0 && yarns[last] == r.Cells[c].Yarn {
			counts[last]++
		} else if !r.Cells[c].IsEmpty() {
			counts, yarns = append(counts, 1), append(yarns, r.Cells[c].Yarn)
		}
		if r.caught(c) {
			caught = append(caught, fmt.Sprint(c+1))
		}
	}
	for i, yarn := range yarns {
		runs = append(runs, fmt.Sprintf("%d %s", counts[i], t.yarns[yarn].Name))
	}
	text := fmt.Sprintf("Row %d: %s", number, strings.Join(runs, ", "))
	if len(caught) > 0 {
		text += "; caught in column " + strings.Join(caught, ", ")
	}
	t.say(text + ".")
}
