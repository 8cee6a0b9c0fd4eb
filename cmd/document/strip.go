package document

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
)

// Strip is one repeat of a row, and perhaps of rows below it, as the chart shows
// them: column 1 at the right, the row above the row below.
//
//	57 x..xxx..x..xxx..x..xxx.. <
//	   a        b
//	   20   15   10    5
//	56 ..xx.xx...xx.xx...xx.xx.
//	      a            b
//
// The numbers count stitches from the side where the row begins; the arrow stands
// there. In a row of blocks one repeat of each is shown, and counted by itself; its number stands
// at its first stitch ("2/"). What is too wide for the line is cut into pieces of nearly the same width, of
// whole fives where that leaves no scrap, the piece worked first on top, each with its
// stitches in front. Aloud it is left out: the row for a glance says the same.
type Strip struct {
	Number   int        // of the row, from 1
	Columns  []Column   // of the row, index 0 = column 1 of the chart
	Below    [][]Column // as many, of the rows below, the nearest first
	FromLeft bool
	Ruler    bool // also where there are no signs
	Optional bool // left out where it does not fit one line
	Only     int  // the piece with this column alone, from 1; 0 for all

	Least, Most int  // columns of a stitch: at least, and at most as long as the row fits one line; 0 is what its signs take
	High        bool // where there are colors a stitch of the row is about square, at least two lines high, and its signs stand out
}

// Column is what a row has in one column of its chart.
type Column struct {
	chart.Cell          // its yarn is an index into those of the document
	Stitch     int      // the number of the stitch in its repeat, from where the row begins; 0 in an empty cell
	Block      int      // the number of the block that begins here, in a row of several; else 0
	Signs      []string // what stands under the stitch, one below the other
	Shaped     bool     // the stitch is not plain
	Chosen     bool     // it is pointed at
	Worked     bool     // it is worked already and steps back
}

func (Strip) isBlock() {}

// StripPiece is what stands beside each other of a strip, the columns as they are seen: the highest first.
type StripPiece struct {
	Row   []Column
	Below [][]Column
	First bool // the row begins in it
}

// CutAt cuts a strip at places counted from where the row begins, from 0 to the number of its columns.
func (s Strip) CutAt(cuts []int) []StripPiece {
	var pieces []StripPiece
	for i, from := range cuts[:len(cuts)-1] {
		low, high := from, cuts[i+1]
		if s.FromLeft {
			low, high = len(s.Columns)-high, len(s.Columns)-low
		}
		if s.Only > 0 && (s.Only <= low || s.Only > high) {
			continue
		}
		seen := func(row []Column) []Column {
			row = slices.Clone(row[low:high])
			slices.Reverse(row)
			return row
		}
		piece := StripPiece{Row: seen(s.Columns), First: from == 0}
		for _, below := range s.Below {
			piece.Below = append(piece.Below, seen(below))
		}
		pieces = append(pieces, piece)
	}
	return pieces
}

// SignLines are as many lines of signs as stand under one stitch; "" is none.
func SignLines(columns []Column) [][]string {
	var lines [][]string
	for i, c := range columns {
		for n, sign := range c.Signs {
			if n == len(lines) {
				lines = append(lines, make([]string, len(columns)))
			}
			lines[n][i] = sign
		}
	}
	return lines
}

func (t *textWriter) strip(s Strip) {
	l := stripLines{Strip: s, t: t}
	cuts := evenCuts(len(s.Columns), l.measure())
	if s.Optional && len(cuts) > 2 {
		return
	}
	for _, piece := range s.CutAt(cuts) {
		l.piece(piece)
	}
}

// stripLines writes the lines of a strip.
type stripLines struct {
	Strip
	t     *textWriter
	cell  int // columns of the screen a stitch takes
	lead  int // of them, those in front of its symbol
	label int // columns of the row number
}

const arrowRoom = 2 // a blank and a mark

// measure tells how many stitches there are in a line at most.
func (l *stripLines) measure() int {
	least := 1
	for _, y := range l.t.yarns {
		least = max(least, paint.Width(string(y.Symbol)))
	}
	for _, row := range append([][]Column{l.Columns}, l.Below...) {
		for _, sign := range slices.Concat(SignLines(row)...) {
			least = max(least, paint.Width(sign))
		}
	}
	n := max(1, len(l.Columns))
	l.label = len(fmt.Sprint(l.Number))
	columns := l.t.look.Width - l.label - 1 - arrowRoom
	l.cell = max(least, l.Least, min(l.Most, columns/n))
	l.lead = (l.cell - least) / 2
	if most := columns / l.cell; most >= n {
		return most
	}
	return max(5, columns/l.cell/5*5)
}

// evenCuts is where to cut n columns into as few pieces of at most most, a number of fives, as
// can be: of whole fives unless that leaves the last less than three. It is from 0 to n.
func evenCuts(n, most int) []int {
	pieces := max(1, (n+most-1)/most)
	fives := ((n+pieces-1)/pieces + 4) / 5 * 5
	whole := n-fives*(pieces-1) >= 3
	cuts := make([]int, pieces+1)
	for i := range cuts {
		cuts[i] = i * n / pieces
		if whole {
			cuts[i] = min(n, i*fives)
		}
	}
	return cuts
}

func (l *stripLines) piece(p StripPiece) {
	quiet, marks := l.t.look.Paint.Quiet, l.t.look.Marks
	blocks := slices.ContainsFunc(l.Columns, func(c Column) bool { return c.Block > 0 })
	if len(p.Row) < len(l.Columns) && !blocks {
		l.t.lines(quiet(span(p.Row)))
	}
	left, right := "", "" // the arrow on the side where the row begins, and the room it takes where it is not
	switch {
	case l.FromLeft && p.First:
		left = marks.Right + " "
	case l.FromLeft:
		left = "  "
	case p.First:
		right = " " + marks.Left
	}
	margin := strings.Repeat(" ", l.label+1+paint.Width(left))
	label := func(row int) string { return fmt.Sprintf("%*d ", l.label, row) }
	tall := 1
	if l.High && l.t.look.Paint.Colors() {
		tall = max(2, l.cell/2) // a line is about as high as two columns are wide
	}
	color := slices.Repeat([]string{margin + l.cells(p.Row, false)}, tall)
	l.t.lines(color[:tall/2]...)
	l.t.lines(quiet(label(l.Number)) + left + l.cells(p.Row, true) + quiet(right))
	l.t.lines(color[tall/2+1:]...)
	signs := l.signs(l.marked(p.Row))
	for _, line := range signs {
		if l.High {
			line = l.t.look.Paint.Strong(line)
		}
		l.t.lines(margin + line)
	}
	if ruler := l.ruler(p.Row, len(margin)); ruler != "" && (l.Ruler || len(signs) > 0) {
		l.t.lines(quiet(ruler))
	}
	for i, below := range p.Below {
		l.t.lines(quiet(label(l.Number-1-i)+margin[l.label+1:]) + l.cells(below, true))
		for _, line := range l.signs(below) {
			l.t.lines(quiet(margin + line))
		}
	}
}

// marked adds the marks of shaped stitches where nothing else stands, and of the one pointed at below all.
func (l *stripLines) marked(columns []Column) []Column {
	columns = slices.Clone(columns)
	for i, c := range columns {
		if c.Shaped && len(c.Signs) == 0 {
			columns[i].Signs = []string{l.t.look.Marks.Shape}
		}
		if c.Chosen {
			columns[i].Signs = append(slices.Clip(columns[i].Signs), l.t.look.Marks.Chose)
		}
	}
	return columns
}

func span(columns []Column) string {
	var stitches []int
	for _, c := range columns {
		if c.Stitch > 0 {
			stitches = append(stitches, c.Stitch)
		}
	}
	if len(stitches) == 0 {
		return "no stitches"
	}
	return chart.Plural("stitch", len(stitches)) + " " + Stretch{From: slices.Min(stitches), To: slices.Max(stitches)}.Rows()
}

// cells colors each run of one yarn as a whole. Worked ones have no color: they step back.
func (l *stripLines) cells(columns []Column, symbols bool) string {
	var out strings.Builder
	for n := 0; len(columns) > 0; columns = columns[n:] {
		c := columns[0]
		n = slices.IndexFunc(columns, func(o Column) bool { return o.Yarn != c.Yarn || o.Worked != c.Worked })
		if n < 0 {
			n = len(columns)
		}
		symbol, style := l.t.look.Marks.Blank, l.t.look.Paint.Quiet
		if !c.IsEmpty() {
			symbol = string(l.t.yarns[c.Yarn].Symbol)
		}
		if !c.IsEmpty() && !c.Worked {
			style = func(text string) string { return l.t.chip(text, c.Yarn) }
		}
		if !symbols {
			symbol = ""
		}
		out.WriteString(style(strings.Repeat(l.padded(symbol), n)))
	}
	return out.String()
}

func (l *stripLines) padded(text string) string {
	return paint.Pad(strings.Repeat(" ", l.lead)+text, l.cell)
}

func (l *stripLines) signs(columns []Column) []string {
	var lines []string
	for _, signs := range SignLines(columns) {
		line := ""
		for _, sign := range signs {
			line += l.padded(sign)
		}
		lines = append(lines, strings.TrimRight(line, " "))
	}
	return lines
}

// ruler has the last digit under the stitch. The margin takes up digits that stick out.
func (l *stripLines) ruler(columns []Column, margin int) string {
	line := []byte(strings.Repeat(" ", margin+len(columns)*l.cell))
	put := func(screen int, digits string, apart int) {
		end := margin + screen*l.cell + l.lead + 1
		from := max(0, end-len(digits))
		if strings.TrimSpace(string(line[max(0, from-apart):min(end+apart, len(line))])) == "" {
			copy(line[from:end], digits[len(digits)-(end-from):])
		}
	}
	for screen, c := range columns { // the numbers of blocks first: they are looked for
		if c.Block > 0 {
			put(screen, fmt.Sprintf("%d/", c.Block), 0)
		}
	}
	for screen, c := range columns {
		if c.Stitch > 0 && c.Stitch%5 == 0 {
			put(screen, fmt.Sprint(c.Stitch), 1)
		}
	}
	return strings.TrimRight(string(line), " ")
}
