package render

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

// WriteGrid draws a grid, the top row first, with its row numbers and a ruler of
// every fifth column. One that is too wide for the look is drawn in pieces of whole
// fives, column 1 first. For a screen reader each row is a sentence.
func WriteGrid(w io.Writer, g Grid, look Look) error {
	p := &prose{look: look}
	p.grid(g)
	return p.writeTo(w)
}

func (p *prose) grid(g Grid) {
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
				p.gap()
			}
			p.paragraph("Columns %d to %d:", from+1, to)
		}
		p.gridPiece(g, from, to, labels)
	}
}

// gridPiece draws the columns from (counted from 0) up to to.
func (p *prose) gridPiece(g Grid, from, to, labels int) {
	for i := len(g.Rows) - 1; i >= 0; i-- {
		r := g.Rows[i]
		left, right := strings.Repeat(" ", labels), ""
		if number := fmt.Sprint(r.Number); r.FromLeft {
			left = strings.Repeat(" ", labels-len(number)) + number
		} else {
			right = " " + number
		}
		p.text.WriteString(left + " " + p.cells(g, r, from, to) + right + "\n")
		if marks := p.marks(g, r, from, to); marks != "" {
			p.text.WriteString(strings.TrimRight(strings.Repeat(" ", labels+1)+marks, " ") + "\n")
		}
	}
	p.text.WriteString(p.look.Paint.Quiet(strings.Repeat(" ", labels+1)+ruler(from, to, g.Chars)) + "\n")
}

// cells draws one row from the highest column to the lowest, run by run.
func (p *prose) cells(g Grid, r GridRow, from, to int) string {
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
func (p *prose) stitch(symbol rune, c chart.Cell, chars int) string {
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
func (p *prose) marks(g Grid, r GridRow, from, to int) string {
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

// ruler numbers column 1 and every fifth, each number ending over its column.
func ruler(from, to, chars int) string {
	line := []byte(strings.Repeat(" ", (to-from)*chars))
	for column := from + 1; column <= to; column++ {
		if column%5 != 0 && column != 1 {
			continue
		}
		number := fmt.Sprint(column)
		end := (to - column + 1) * chars
		if start := end - len(number); start >= 0 {
			copy(line[start:end], number)
		}
	}
	return string(line)
}

// gridSentences tells each row as runs, the first row first, since that is the
// order it is knitted in.
func (p *prose) gridSentences(g Grid) {
	for _, r := range g.Rows {
		var runs, caught []string
		for i := range r.Cells {
			at := i
			if r.FromLeft {
				at = len(r.Cells) - 1 - i
			}
			if r.Caught != nil && r.Caught[at] {
				caught = append(caught, fmt.Sprint(at+1))
			}
			if cell := r.Cells[at]; !cell.IsEmpty() {
				runs = extend(runs, g.Yarns[cell.Yarn].Name)
			}
		}
		text := fmt.Sprintf("Row %d: %s", r.Number, strings.Join(runs, ", "))
		if len(caught) > 0 {
			text += "; caught in column " + strings.Join(caught, ", ")
		}
		p.paragraph("%s.", text)
	}
}

// extend adds a stitch to the last run, or begins one.
func extend(runs []string, name string) []string {
	if n := len(runs); n > 0 {
		var stitches int
		if _, err := fmt.Sscanf(runs[n-1], "%d", &stitches); err == nil && runs[n-1] == fmt.Sprintf("%d %s", stitches, name) {
			runs[n-1] = fmt.Sprintf("%d %s", stitches+1, name)
			return runs
		}
	}
	return append(runs, "1 "+name)
}
