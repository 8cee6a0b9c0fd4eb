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
	Number   int          // of the row, from 1
	Cells    []chart.Cell // index 0 = column 1; their yarns index those of the document
	Below    []Under      // the rows below, the nearest first
	FromLeft bool
	Stitches []int       // by column, from where the row begins: the number of the stitch in its repeat, 0 in an empty cell; nil where one repeat is all
	Blocks   map[int]int // in rows of several blocks, by the column in which one begins: its number
	Signs    [][]string  // by column: what stands under the stitch, one below the other; nil is nothing
	Shaped   []bool      // by column: the stitch is not plain; nil where all are
	Chosen   []bool      // by column: the stitch is pointed at; nil where none is
	Ruler    bool        // also where there are no signs
	Optional bool        // left out where it does not fit one line
	Only     int         // the piece with this column alone, from 1; 0 for all
	Worked   []bool      // by column: the stitch is worked already and steps back; nil where none is

	Least, Most int  // columns of a stitch: at least, and at most as long as the row fits one line; 0 is what its signs take
	High        bool // where there are colors a stitch of the row is about square, at least two lines high, and its signs stand out
}

// Under is a row below the row of a strip.
type Under struct {
	Cells []chart.Cell // as many as the row has
	Signs [][]string   // by column; nil is nothing
}

func (Strip) isBlock() {}

// Numbers gives the number of the stitch in each column, from 1; 0 in an empty cell.
func (s Strip) Numbers() []int {
	if s.Stitches != nil {
		return s.Stitches
	}
	numbers, next := make([]int, len(s.Cells)), 0
	for i := range s.Cells {
		if at := s.at(i); !s.Cells[at].IsEmpty() {
			next++
			numbers[at] = next
		}
	}
	return numbers
}

// at is the index into the cells of a column counted from where the row begins.
func (s Strip) at(i int) int {
	if s.FromLeft {
		return len(s.Cells) - 1 - i
	}
	return i
}

func (t *textWriter) strip(s Strip) {
	l := stripLines{Strip: s, t: t, number: s.Numbers()}
	l.measure()
	n := len(s.Cells)
	cuts := evenCuts(n, l.most)
	if s.Optional && len(cuts) > 2 {
		return
	}
	for i, from := range cuts[:len(cuts)-1] {
		low, high := from, cuts[i+1]
		if s.FromLeft {
			low, high = n-high, n-low
		}
		if s.Only == 0 || low < s.Only && s.Only <= high {
			l.piece(low, high, from == 0)
		}
	}
}

// stripLines writes the lines of a strip. A column is the index into its cells, 0 for column 1 of the chart; where pieces
// are cut, columns are counted from 0 from where the row begins.
type stripLines struct {
	Strip
	t      *textWriter
	cell   int   // columns of the screen a stitch takes
	lead   int   // of them, those in front of its symbol
	most   int   // stitches in a line, as many as can be
	label  int   // columns of the row number
	number []int // by column: of the stitch, from 1; 0 in an empty cell
}

const arrowRoom = 2 // a blank and a mark

func (l *stripLines) measure() {
	least := 1
	for _, y := range l.t.yarns {
		least = max(least, paint.Width(string(y.Symbol)))
	}
	for _, row := range append([]Under{{Signs: l.Signs}}, l.Below...) {
		for _, sign := range slices.Concat(row.Signs...) {
			least = max(least, paint.Width(sign))
		}
	}
	n := max(1, len(l.Cells))
	l.label = len(fmt.Sprint(l.Number))
	columns := l.t.look.Width - l.label - 1 - arrowRoom
	l.cell = max(least, l.Least, min(l.Most, columns/n))
	l.lead = (l.cell - least) / 2
	if l.most = columns / l.cell; l.most < n {
		l.most = max(5, l.most/5*5)
	}
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

// piece writes the columns from low up to high, the last not included; the first piece has the arrow.
func (l *stripLines) piece(low, high int, first bool) {
	quiet, marks := l.t.look.Paint.Quiet, l.t.look.Marks
	if high-low < len(l.Cells) && l.Blocks == nil {
		l.t.lines(quiet(l.span(low, high)))
	}
	left, right := "", "" // the arrow on the side where the row begins, and the room it takes where it is not
	switch {
	case l.FromLeft && first:
		left = marks.Right + " "
	case l.FromLeft:
		left = "  "
	case first:
		right = " " + marks.Left
	}
	var columns []int // as they stand on the screen
	for i := high - 1; i >= low; i-- {
		columns = append(columns, i)
	}
	margin := strings.Repeat(" ", l.label+1+paint.Width(left))
	label := func(row int) string { return fmt.Sprintf("%*d ", l.label, row) }
	tall := 1
	if l.High && l.t.look.Paint.Colors() {
		tall = max(2, l.cell/2) // a line is about as high as two columns are wide
	}
	color := slices.Repeat([]string{margin + l.cells(l.Cells, columns, l.Worked, false)}, tall)
	l.t.lines(color[:tall/2]...)
	l.t.lines(quiet(label(l.Number)) + left + l.cells(l.Cells, columns, l.Worked, true) + quiet(right))
	l.t.lines(color[tall/2+1:]...)
	signs := l.signs(columns, l.marked())
	for _, line := range signs {
		if l.High {
			line = l.t.look.Paint.Strong(line)
		}
		l.t.lines(margin + line)
	}
	if ruler := l.ruler(columns, len(margin)); ruler != "" && (l.Ruler || len(signs) > 0) {
		l.t.lines(quiet(ruler))
	}
	for i, below := range l.Below {
		l.t.lines(quiet(label(l.Number-1-i)+margin[l.label+1:]) + l.cells(below.Cells, columns, nil, true))
		for _, line := range l.signs(columns, below.Signs) {
			l.t.lines(quiet(margin + line))
		}
	}
}

// marked is the signs with the marks of shaped stitches where nothing else stands, and of the
// one pointed at below all.
func (l *stripLines) marked() [][]string {
	signs := make([][]string, len(l.Cells))
	for i := range signs {
		if l.Signs != nil {
			signs[i] = slices.Clone(l.Signs[i])
		}
		if l.Shaped != nil && l.Shaped[i] && len(signs[i]) == 0 {
			signs[i] = []string{l.t.look.Marks.Shape}
		}
		if l.Chosen != nil && l.Chosen[i] {
			signs[i] = append(signs[i], l.t.look.Marks.Chose)
		}
	}
	return signs
}

func (l *stripLines) span(low, high int) string {
	stitches := slices.DeleteFunc(slices.Clone(l.number[low:high]), func(n int) bool { return n == 0 })
	if len(stitches) == 0 {
		return "no stitches"
	}
	return chart.Plural("stitch", len(stitches)) + " " + Stretch{From: slices.Min(stitches), To: slices.Max(stitches)}.Rows()
}

// cells colors each run of one yarn as a whole. Worked ones have no color: they step back.
func (l *stripLines) cells(cells []chart.Cell, columns []int, worked []bool, symbols bool) string {
	back := func(column int) bool { return worked != nil && worked[column] }
	var out strings.Builder
	for i, end := 0, 0; i < len(columns); i = end {
		here := columns[i]
		yarn := cells[here].Yarn
		for end < len(columns) && cells[columns[end]].Yarn == yarn && back(columns[end]) == back(here) {
			end++
		}
		symbol, style := l.t.look.Marks.Blank, l.t.look.Paint.Quiet
		if yarn != chart.NoYarn {
			symbol = string(l.t.yarns[yarn].Symbol)
		}
		if yarn != chart.NoYarn && !back(here) {
			style = func(text string) string { return l.t.chip(text, yarn) }
		}
		if !symbols {
			symbol = ""
		}
		out.WriteString(style(strings.Repeat(l.padded(symbol), end-i)))
	}
	return out.String()
}

func (l *stripLines) padded(text string) string {
	return paint.Pad(strings.Repeat(" ", l.lead)+text, l.cell)
}

// signs are as many lines as there are signs under one stitch.
func (l *stripLines) signs(columns []int, signs [][]string) []string {
	var lines []string
	for i := 0; signs != nil; i++ {
		line := ""
		for _, column := range columns {
			sign := ""
			if under := signs[column]; i < len(under) {
				sign = under[i]
			}
			line += l.padded(sign)
		}
		if line = strings.TrimRight(line, " "); line == "" {
			break
		}
		lines = append(lines, line)
	}
	return lines
}

// ruler has the last digit under the stitch. The margin takes up digits that stick out.
func (l *stripLines) ruler(columns []int, margin int) string {
	line := []byte(strings.Repeat(" ", margin+len(columns)*l.cell))
	put := func(screen int, digits string, apart int) {
		end := margin + screen*l.cell + l.lead + 1
		from := max(0, end-len(digits))
		if strings.TrimSpace(string(line[max(0, from-apart):min(end+apart, len(line))])) == "" {
			copy(line[from:end], digits[len(digits)-(end-from):])
		}
	}
	for screen, column := range columns { // the numbers of blocks first: they are looked for
		if block := l.Blocks[column]; block > 0 {
			put(screen, fmt.Sprintf("%d/", block), 0)
		}
	}
	for screen, column := range columns {
		if n := l.number[column]; n > 0 && n%5 == 0 {
			put(screen, fmt.Sprint(n), 1)
		}
	}
	return strings.TrimRight(string(line), " ")
}
