package draw

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
	"strandwise/floats"
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

func (t *terminal) say(text string) { t.line(strings.Join(t.wrapped("", text), "\n")) }

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
func fromLeft(from, to int, wrong bool) (columns []int) {
	for c := from; c < to; c++ {
		columns = append(columns, c)
	}
	if !wrong {
		slices.Reverse(columns)
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

// colored joins what stands on columns of a row, which may be beyond it. Neighboring stitches of one yarn are colored
// together.
func (t *terminal) colored(r *floats.Course, columns []int, text func(column, yarn int) string) (line string) {
	yarn := func(c int) int {
		if c < r.Columns() {
			return r.Cell(c).Yarn
		}
		return chart.NoYarn
	}
	for len(columns) > 0 {
		y, run := yarn(columns[0]), ""
		for len(columns) > 0 && yarn(columns[0]) == y {
			run += text(columns[0], y)
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
	*floats.Course // one repeat; worked from the left its number stands there
	Symbols        []rune
	Caught         []bool // by column; nil when no catch is made
}

func (r *TextRow) caught(column int) bool { return r.Caught != nil && r.Caught[column] }

// TextOf is a chart for the terminal. Flat work numbers the even rows at the left, where they begin.
func TextOf(c *chart.Chart, flat bool) TextChart {
	t := TextChart{Yarns: c.Yarns, Chars: 1}
	for i, r := range rowsOf(c.Height(), c.Cells, flat) {
		t.Rows = append(t.Rows, TextRow{Course: r.Course, Symbols: c.Rows[i]})
	}
	return t
}

// CharsFor is how many characters, 1 to 4, come nearest to the shape of a stitch so wide and high.
func CharsFor(width, height float64) int {
	const aspect = 0.5 // of a character, its width by its height (common practice, no source)
	off := func(n int) float64 {
		shape := float64(n) * aspect * height / width
		return max(shape, 1/shape)
	}
	return slices.MinFunc([]int{1, 2, 3, 4}, func(a, b int) int { return cmp.Compare(off(a), off(b)) })
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
	TextChart
}

func (t *chartText) drawn() {
	widest, margin := len(t.Rows[0].Symbols), len(fmt.Sprint(len(t.Rows)))+1
	t.inParts(0, widest, (t.look.Width-2*margin)/t.Chars, 5, func(from, to int) {
		if to-from < widest {
			t.say(fmt.Sprintf("Columns %d to %d:", from+1, to))
		}
		columns, numbers := fromLeft(from, to, false), blanks(margin+(to-from)*t.Chars)
		for i, r := range slices.Backward(t.Rows) {
			t.row(i+1, &r, columns, margin)
		}
		for i, c := range columns {
			if c == 0 || c%5 == 4 {
				numbers.set(margin+(i+1)*t.Chars-1, fmt.Sprint(c+1))
			}
		}
		t.quiet(string(numbers))
	})
	if t.Key != "" {
		t.line("")
		t.quiet(t.wrapped("  ", t.look.Marks.Catch+" "+t.Key)...)
	}
}

// row draws columns of a row, counted from 0, as they stand on the screen, and below them its catches.
func (t *chartText) row(number int, r *TextRow, columns []int, margin int) {
	left, right, marks := "", fmt.Sprintf(" %d", number), ""
	if r.FromLeft {
		left, right = fmt.Sprintf("%*d ", margin-1, number), ""
	}
	stitches := t.colored(r.Course, columns, func(column, yarn int) string {
		text := string(r.Symbols[column])
		if yarn == chart.NoYarn {
			text = t.look.Marks.Blank
		}
		return paint.Pad(strings.Repeat(text, max(1, t.Chars/max(1, paint.Width(text)))), t.Chars) // one may be two wide
	})
	t.line(fmt.Sprintf("%*s", margin, left) + stitches + right)
	for _, c := range columns {
		mark := ""
		if r.caught(c) {
			mark = t.look.Marks.Catch
		}
		marks += paint.Pad(mark, t.Chars)
	}
	if strings.TrimSpace(marks) != "" {
		t.line(strings.Repeat(" ", margin) + marks)
	}
}

func (t *chartText) sentence(number int, r *TextRow) {
	var runs, caught []string
	length, stitches := 0, r.InOrder()
	for i, s := range stitches {
		if length++; i == len(stitches)-1 || stitches[i+1].Yarn != s.Yarn {
			runs, length = append(runs, fmt.Sprintf("%d %s", length, t.yarns[s.Yarn].Name)), 0
		}
		if r.caught(s.Column) {
			caught = append(caught, fmt.Sprint(s.Column+1))
		}
	}
	text := fmt.Sprintf("Row %d: %s", number, strings.Join(runs, ", "))
	if len(caught) > 0 {
		text += "; caught in column " + strings.Join(caught, ", ")
	}
	t.say(text + ".")
}
