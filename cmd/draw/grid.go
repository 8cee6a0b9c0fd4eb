package draw

import (
	"fmt"
	"io"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
)

// Grid is rows of stitches to draw on a terminal: those of a chart or of a piece.
type Grid struct {
	Yarns []chart.Yarn
	Rows  []GridRow // the lowest first
	Chars int       // characters a stitch, at least 1; see CharsFor
	Marks bool      // lines for catches
}

// GridRow is one row of a grid. Index 0 of the lists is column 1, the rightmost.
type GridRow struct {
	Number   int
	Symbols  []rune
	Cells    []chart.Cell
	Caught   []bool // by column; nil when no catch is made
	FromLeft bool   // worked from the highest column: its number stands at the left
}

// GridOf is the grid of a chart. Flat work numbers the even rows at the left, where
// they begin.
func GridOf(c *chart.Chart, flat bool) Grid {
	g := Grid{Yarns: c.Yarns, Chars: 1}
	for i, symbols := range c.Rows {
		g.Rows = append(g.Rows, GridRow{Number: i + 1, Symbols: symbols, Cells: c.Cells(i + 1), FromLeft: flat && i%2 == 1})
	}
	return g
}

// terminalAspect is how wide a character of a terminal is for its height (common
// practice, no source).
const terminalAspect = 0.5

// CharsFor is how many characters wide a stitch is to be, 1 to 4, so that its shape
// on a terminal comes nearest to the given width and height.
func CharsFor(width, height float64) int {
	best, least := 1, 0.0
	for n := 1; n <= 4; n++ {
		shape, off := float64(n)*terminalAspect*height/width, 0.0
		if off = shape - 1; shape < 1 {
			off = 1/shape - 1
		}
		if n == 1 || off < least {
			best, least = n, off
		}
	}
	return best
}

// Text draws a grid, the top row first, with its row numbers and a ruler of
// every fifth column. One that is too wide for the look is drawn in pieces of whole
// fives, column 1 first. For a screen reader each row is a sentence.
func Text(w io.Writer, g Grid, look paint.Look) error {
	p := &lines{w: w, look: look}
	p.grid(g)
	return p.err
}

func (p *lines) grid(g Grid) {
	if p.look.Plain {
		p.gridSentences(g)
		return
	}
	widest, labels := 0, len(fmt.Sprint(g.Rows[len(g.Rows)-1].Number))
	for _, r := range g.Rows {
		widest = max(widest, len(r.Symbols))
	}
	piece := (p.look.Width - 2*labels - 2) / g.Chars
	if piece < widest {
		piece = max(5, piece/5*5)
	}
	for from := 0; from < widest; from += piece {
		to := min(from+piece, widest)
		if piece < widest {
			if from > 0 {
				p.line("")
			}
			p.say(fmt.Sprintf("Columns %d to %d:", from+1, to), nil)
		}
		p.gridPiece(g, from, to, labels)
	}
}

// gridPiece draws the columns from (counted from 0) up to to.
func (p *lines) gridPiece(g Grid, from, to, labels int) {
	for i := len(g.Rows) - 1; i >= 0; i-- {
		r := g.Rows[i]
		left, right := strings.Repeat(" ", labels), ""
		if number := fmt.Sprint(r.Number); r.FromLeft {
			left = strings.Repeat(" ", labels-len(number)) + number
		} else {
			right = " " + number
		}
		p.line(left + " " + p.cells(g, r, from, to) + right)
		if marks := p.marks(g, r, from, to); marks != "" {
			p.line(strings.Repeat(" ", labels+1) + marks)
		}
	}
	p.line(p.look.Paint.Quiet(ruler(from, to, g.Chars, labels+1)))
}

// cells draws one row from the highest column to the lowest, run by run.
func (p *lines) cells(g Grid, r GridRow, from, to int) string {
	var line strings.Builder
	to = min(to, len(r.Symbols))
	for at := to - 1; at >= from; {
		yarn, text := r.Cells[at].Yarn, ""
		for ; at >= from && r.Cells[at].Yarn == yarn; at-- {
			text += p.stitch(r.Symbols[at], r.Cells[at], g.Chars)
		}
		if yarn != chart.NoYarn {
			text = p.look.Paint.Yarn(text, g.Yarns[yarn].Color)
		}
		line.WriteString(text)
	}
	return line.String()
}

// stitch is one stitch as so many characters of its symbol; a symbol two columns
// wide counts twice.
func (p *lines) stitch(symbol rune, c chart.Cell, chars int) string {
	text := string(symbol)
	if c.IsEmpty() {
		text = p.look.Marks.Blank
	}
	if paint.Width(text) >= chars {
		return text
	}
	return paint.Pad(strings.Repeat(text, chars/max(1, paint.Width(text))), chars)
}

// marks is the line of catches below a row, or "".
func (p *lines) marks(g Grid, r GridRow, from, to int) string {
	if !g.Marks {
		return ""
	}
	var line strings.Builder
	some := false
	for at := min(to, len(r.Symbols)) - 1; at >= from; at-- {
		mark := " "
		if r.Caught != nil && r.Caught[at] {
			mark, some = p.look.Marks.Catch, true
		}
		line.WriteString(paint.Pad(mark, g.Chars))
	}
	if !some {
		return ""
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

// gridSentences tells each row as runs, the first row first, since that is the
// order it is knitted in.
func (p *lines) gridSentences(g Grid) {
	for _, r := range g.Rows {
		text := fmt.Sprintf("Row %d: %s", r.Number, strings.Join(g.runs(r), ", "))
		if caught := r.caught(); len(caught) > 0 {
			text += "; caught in column " + strings.Join(caught, ", ")
		}
		p.say(text+".", nil)
	}
}

// runs are the runs of a row in knitting order: "3 oat".
func (g Grid) runs(r GridRow) []string {
	var runs []string
	last, stitches := chart.NoYarn, 0
	end := func() {
		if stitches > 0 {
			runs = append(runs, fmt.Sprintf("%d %s", stitches, g.Yarns[last].Name))
		}
	}
	for i := range r.Cells {
		yarn := r.Cells[r.column(i)].Yarn
		if yarn == chart.NoYarn {
			continue
		}
		if yarn != last {
			end()
			last, stitches = yarn, 0
		}
		stitches++
	}
	end()
	return runs
}

// column is the place in the lists of the cell met as number i, from 0.
func (r GridRow) column(i int) int {
	if r.FromLeft {
		return len(r.Cells) - 1 - i
	}
	return i
}

// caught lists the columns with a catch in knitting order, from 1.
func (r GridRow) caught() []string {
	var columns []string
	for i := range r.Caught {
		if at := r.column(i); r.Caught[at] {
			columns = append(columns, fmt.Sprint(at+1))
		}
	}
	return columns
}
