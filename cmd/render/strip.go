package render

import (
	"fmt"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
)

// Strip is one repeat of a row, and perhaps of the row below it, as the chart shows
// them: column 1 at the right, the row above the row below.
//
//	57 x..xxx..x..xxx..x..xxx.. <
//	   ^        ^
//	   20   15   10    5
//	56 ..xx.xx...xx.xx...xx.xx.
//	      ^            ^
//
// The numbers count stitches from the side where the row begins; the arrow stands
// there. What is too wide for the line is cut into pieces of whole fives, the piece
// worked first on top, each with its stitches in front.
type Strip struct {
	Yarns     []chart.Yarn
	Row       int          // its number, from 1
	Cells     []chart.Cell // index 0 = column 1; Yarn indexes Yarns
	Below     []chart.Cell // of the row below, as long as Cells; nil leaves it out
	FromLeft  bool
	Caught    []bool // by column: a catch stands there
	Moved     []bool // by column: one that is not where the plan had it; may be nil
	MovedSign string
	Ruler     bool // also where nothing is caught

	CaughtBelow []bool // Caught of the row below; nil leaves its marks out
}

// WriteStrip writes a strip.
func WriteStrip(p Look, write func(line string), s Strip) {
	l := stripLines{Strip: s, look: p, write: write}
	l.measure()
	n := len(s.Cells)
	for from := 0; from < n; from += l.most {
		l.piece(from, min(n, from+l.most))
	}
}

// stripLines writes the lines of a strip. Columns are counted here from where the
// row begins, from 0: the first is column 1 of the chart, or for a row from the left
// its last.
type stripLines struct {
	Strip
	look   Look
	write  func(string)
	cell   int   // columns of the screen a stitch takes
	most   int   // stitches in a line
	label  int   // columns of the row number
	number []int // of the stitch in each column, from 1; 0 in an empty cell
}

// arrowRoom is what the arrow takes: a blank and a mark.
const arrowRoom = 2

func (l *stripLines) measure() {
	l.cell = 1
	for _, y := range l.Yarns {
		l.cell = max(l.cell, paint.Width(string(y.Symbol)))
	}
	l.label = len(fmt.Sprint(l.Row))
	room := (l.look.Width - l.label - 1 - arrowRoom) / l.cell
	l.most = len(l.Cells)
	if room < l.most {
		l.most = max(5, room/5*5)
	}
	next := 0
	for i := range l.Cells {
		n := 0
		if !l.Cells[l.at(i)].IsEmpty() {
			next++
			n = next
		}
		l.number = append(l.number, n)
	}
}

// at is the index into the cells of a column counted from where the row begins.
func (l *stripLines) at(i int) int {
	if l.FromLeft {
		return len(l.Cells) - 1 - i
	}
	return i
}

// shown lists the columns from and to (the last not included) as they stand on the
// screen, left to right.
func (l *stripLines) shown(from, to int) []int {
	columns := make([]int, 0, to-from)
	for i := from; i < to; i++ {
		columns = append(columns, i)
	}
	if !l.FromLeft {
		for i, j := 0, len(columns)-1; i < j; i, j = i+1, j-1 {
			columns[i], columns[j] = columns[j], columns[i]
		}
	}
	return columns
}

func (l *stripLines) piece(from, to int) {
	columns := l.shown(from, to)
	if to-from < len(l.Cells) {
		l.write(l.look.Paint.Quiet(l.span(from, to)))
	}
	left, right := l.arrows(from)
	l.write(l.look.Paint.Quiet(fmt.Sprintf("%*d ", l.label, l.Row)) + left + l.cells(l.Cells, columns) + l.look.Paint.Quiet(right))
	margin := strings.Repeat(" ", l.label+1+paint.Width(left))
	caught := l.caught(columns, l.Caught, l.Moved)
	if caught != "" {
		l.write(margin + caught)
	}
	if l.Ruler || caught != "" {
		if ruler := l.ruler(columns, len(margin)); ruler != "" {
			l.write(l.look.Paint.Quiet(ruler))
		}
	}
	if l.Below != nil {
		l.write(l.look.Paint.Quiet(fmt.Sprintf("%*d ", l.label, l.Row-1)+strings.Repeat(" ", paint.Width(left))) + l.cells(l.Below, columns))
		if caught := l.caught(columns, l.CaughtBelow, nil); caught != "" {
			l.write(l.look.Paint.Quiet(margin + caught))
		}
	}
}

// span names the stitches of a piece.
func (l *stripLines) span(from, to int) string {
	first, last := 0, 0
	for _, n := range l.number[from:to] {
		if n > 0 && first == 0 {
			first = n
		}
		last = max(last, n)
	}
	if first == 0 {
		return "no stitches"
	}
	if first == last {
		return fmt.Sprintf("stitch %d", first)
	}
	return fmt.Sprintf("stitches %d to %d", first, last)
}

// arrows gives the arrow, on the side where the row begins, and the room it takes
// where it is not.
func (l *stripLines) arrows(from int) (left, right string) {
	switch {
	case l.FromLeft && from == 0:
		return l.look.Marks.Right + " ", ""
	case l.FromLeft:
		return "  ", ""
	case from == 0:
		return "", " " + l.look.Marks.Left
	}
	return "", ""
}

// cells sets stitches as symbols on their colors, each run of one yarn as a whole.
func (l *stripLines) cells(cells []chart.Cell, columns []int) string {
	var out strings.Builder
	for i := 0; i < len(columns); {
		yarn, end := cells[l.at(columns[i])].Yarn, i
		for end < len(columns) && cells[l.at(columns[end])].Yarn == yarn {
			end++
		}
		if yarn == chart.NoYarn {
			out.WriteString(l.look.Paint.Quiet(strings.Repeat(paint.Pad(l.look.Marks.Blank, l.cell), end-i)))
		} else {
			y := l.Yarns[yarn]
			out.WriteString(l.look.Paint.Yarn(strings.Repeat(paint.Pad(string(y.Symbol), l.cell), end-i), y.Color))
		}
		i = end
	}
	return out.String()
}

// caught marks the stitches with a catch; empty when there is none. Both lists are by
// column and may be nil.
func (l *stripLines) caught(columns []int, caught, moved []bool) string {
	var out strings.Builder
	for _, i := range columns {
		mark := " "
		switch at := l.at(i); {
		case caught == nil || !caught[at]:
		case moved != nil && moved[at]:
			mark = l.MovedSign
		default:
			mark = l.look.Marks.Catch
		}
		out.WriteString(paint.Pad(mark, l.cell))
	}
	return strings.TrimRight(out.String(), " ")
}

// ruler numbers every fifth stitch; the last digit stands under it. The margin in
// front takes up digits that stick out.
func (l *stripLines) ruler(columns []int, margin int) string {
	line := []byte(strings.Repeat(" ", margin+len(columns)*l.cell))
	for screen, i := range columns {
		if n := l.number[i]; n > 0 && n%5 == 0 {
			digits := fmt.Sprint(n)
			end := margin + screen*l.cell + 1
			copy(line[max(0, end-len(digits)):end], digits)
		}
	}
	return strings.TrimRight(string(line), " ")
}
