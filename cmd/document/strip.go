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

// strip writes a strip.
func (t *textWriter) strip(s Strip) {
	l := stripLines{Strip: s, t: t}
	l.measure()
	cuts := evenCuts(len(s.Cells), l.most)
	if s.Optional && len(cuts) > 2 {
		return
	}
	for i, from := range cuts[:len(cuts)-1] {
		if s.Only == 0 || from <= l.at(s.Only-1) && l.at(s.Only-1) < cuts[i+1] {
			l.piece(from, cuts[i+1])
		}
	}
}

// stripLines writes the lines of a strip. Columns are counted here from where the
// row begins, from 0: the first is column 1 of the chart, or for a row from the left
// its last.
type stripLines struct {
	Strip
	t      *textWriter
	cell   int   // columns of the screen a stitch takes
	lead   int   // of them, those in front of its symbol
	most   int   // stitches in a line, as many as can be
	label  int   // columns of the row number
	number []int // of the stitch in each column, from 1; 0 in an empty cell
}

// arrowRoom is what the arrow takes: a blank and a mark.
const arrowRoom = 2

func (l *stripLines) measure() {
	l.cell = 1
	for _, y := range l.t.yarns {
		l.cell = max(l.cell, paint.Width(string(y.Symbol)))
	}
	for _, row := range append([]Under{{Signs: l.Signs}}, l.Below...) {
		for _, sign := range slices.Concat(row.Signs...) {
			l.cell = max(l.cell, paint.Width(sign))
		}
	}
	l.label = len(fmt.Sprint(l.Number))
	columns := l.t.look.Width - l.label - 1 - arrowRoom
	least := l.cell
	l.cell = max(l.cell, l.Least, min(l.Most, columns/max(1, len(l.Cells))))
	l.lead = (l.cell - least) / 2
	room := columns / l.cell
	l.most = max(1, len(l.Cells))
	if room < l.most {
		l.most = max(5, room/5*5)
	}
	for i, numbers := 0, l.Numbers(); i < len(numbers); i++ {
		l.number = append(l.number, numbers[l.at(i)])
	}
}

// evenCuts is where to cut n columns into pieces of at most most, a number of fives: as
// few as can be, of whole fives unless that leaves less than three columns for the
// last. It begins with 0 and ends with n.
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

// shown lists the columns from and to (the last not included) as they stand on the
// screen, left to right.
func (l *stripLines) shown(from, to int) []int {
	var columns []int
	for i := from; i < to; i++ {
		columns = append(columns, i)
	}
	if !l.FromLeft {
		slices.Reverse(columns)
	}
	return columns
}

func (l *stripLines) piece(from, to int) {
	columns, quiet := l.shown(from, to), l.t.look.Paint.Quiet
	if to-from < len(l.Cells) && l.Blocks == nil {
		l.t.lines(quiet(l.span(from, to)))
	}
	left, right := l.arrows(from)
	margin := strings.Repeat(" ", l.label+1+paint.Width(left))
	high := 1
	if l.High && l.t.colors() {
		high = max(2, l.cell/2) // a line is about as high as two columns are wide
	}
	blank := func(lines int) {
		for range lines {
			l.t.lines(margin + l.cells(l.Cells, columns, l.Worked, false))
		}
	}
	blank(high / 2)
	l.t.lines(quiet(fmt.Sprintf("%*d ", l.label, l.Number)) + left + l.cells(l.Cells, columns, l.Worked, true) + quiet(right))
	blank((high - 1) / 2)
	signs := l.signs(columns, l.marked())
	for _, line := range signs {
		if l.High {
			line = l.t.look.Paint.Strong(line)
		}
		l.t.lines(margin + line)
	}
	if l.Ruler || len(signs) > 0 {
		if ruler := l.ruler(columns, len(margin)); ruler != "" {
			l.t.lines(quiet(ruler))
		}
	}
	for i, below := range l.Below {
		l.t.lines(quiet(fmt.Sprintf("%*d ", l.label, l.Number-1-i)+strings.Repeat(" ", paint.Width(left))) + l.cells(below.Cells, columns, nil, true))
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
			signs[i] = l.Signs[i]
		}
		if l.Shaped != nil && l.Shaped[i] && len(signs[i]) == 0 {
			signs[i] = []string{l.t.look.Marks.Shape}
		}
		if l.Chosen != nil && l.Chosen[i] {
			signs[i] = append(signs[i][:len(signs[i]):len(signs[i])], l.t.look.Marks.Chose)
		}
	}
	return signs
}

// span names the stitches of a piece.
func (l *stripLines) span(from, to int) string {
	stitches := slices.DeleteFunc(slices.Clone(l.number[from:to]), func(n int) bool { return n == 0 })
	if len(stitches) == 0 {
		return "no stitches"
	}
	return Plural("stitch", len(stitches)) + " " + Stretch{From: stitches[0], To: slices.Max(stitches)}.Rows()
}

// arrows gives the arrow, on the side where the row begins, and the room it takes
// where it is not.
func (l *stripLines) arrows(from int) (left, right string) {
	switch marks := l.t.look.Marks; {
	case l.FromLeft && from == 0:
		return marks.Right + " ", ""
	case l.FromLeft:
		return "  ", ""
	case from == 0:
		return "", " " + marks.Left
	}
	return "", ""
}

// cells sets stitches on their colors, each run of one yarn as a whole, with their symbols or
// without. Worked ones have no color: they step back.
func (l *stripLines) cells(cells []chart.Cell, columns []int, worked []bool, symbols bool) string {
	type look struct {
		yarn int
		back bool
	}
	kind := func(i int) look {
		at := l.at(columns[i])
		return look{cells[at].Yarn, worked != nil && worked[at]}
	}
	var out strings.Builder
	for i, end := 0, 0; i < len(columns); i = end {
		here := kind(i)
		for end < len(columns) && kind(end) == here {
			end++
		}
		symbol, style := l.t.look.Marks.Blank, l.t.look.Paint.Quiet
		if here.yarn != chart.NoYarn {
			symbol = string(l.t.yarns[here.yarn].Symbol)
		}
		if here.yarn != chart.NoYarn && !here.back {
			style = func(text string) string { return l.t.chip(text, here.yarn) }
		}
		if !symbols {
			symbol = ""
		}
		out.WriteString(style(strings.Repeat(l.padded(symbol), end-i)))
	}
	return out.String()
}

// padded sets what stands for a stitch or under it in the columns the stitch takes.
func (l *stripLines) padded(text string) string {
	return paint.Pad(strings.Repeat(" ", l.lead)+text, l.cell)
}

// signs sets signs under their stitches, as many lines as there are signs under one.
func (l *stripLines) signs(columns []int, signs [][]string) []string {
	var lines []string
	for i := 0; signs != nil; i++ {
		line := ""
		for _, column := range columns {
			sign := ""
			if under := signs[l.at(column)]; i < len(under) {
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

// ruler numbers every fifth stitch; the last digit stands under it. The margin in
// front takes up digits that stick out.
func (l *stripLines) ruler(columns []int, margin int) string {
	line := []byte(strings.Repeat(" ", margin+len(columns)*l.cell))
	put := func(screen int, digits string, apart int) {
		end := margin + screen*l.cell + l.lead + 1
		from := max(0, end-len(digits))
		if strings.TrimSpace(string(line[max(0, from-apart):min(end+apart, len(line))])) == "" {
			copy(line[from:end], digits[len(digits)-(end-from):])
		}
	}
	for screen, i := range columns { // the numbers of blocks first: they are looked for
		if block := l.Blocks[l.at(i)]; block > 0 {
			put(screen, fmt.Sprintf("%d/", block), 0)
		}
	}
	for screen, i := range columns {
		if n := l.number[i]; n > 0 && n%5 == 0 {
			put(screen, fmt.Sprint(n), 1)
		}
	}
	return strings.TrimRight(string(line), " ")
}
