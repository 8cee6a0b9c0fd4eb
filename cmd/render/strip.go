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
// there. What is too wide for the line is cut into pieces of nearly the same width, of
// whole fives where that leaves no scrap, the piece worked first on top, each with its
// stitches in front.
type Strip struct {
	Yarns    []chart.Yarn
	Row      int          // its number, from 1
	Cells    []chart.Cell // index 0 = column 1; Yarn indexes Yarns
	Below    []chart.Cell // of the row below, as long as Cells; nil leaves it out
	FromLeft bool
	Signs    []string // by column: what stands under the stitch, one column wide; "" or a nil list is nothing
	Ruler    bool     // also where there are no signs
	Only     int      // write only the piece with this column, from 1; 0 writes all

	SignsBelow []string // Signs of the row below
}

// catchSigns are the signs of catches.
func catchSigns(caught []bool, sign string) []string {
	signs := make([]string, len(caught))
	for i, there := range caught {
		if there {
			signs[i] = sign
		}
	}
	return signs
}

// WriteStrip writes a strip.
func WriteStrip(p Look, write func(line string), s Strip) {
	l := stripLines{Strip: s, look: p, write: write}
	l.measure()
	l.leans = leaning(p, s.Yarns)
	cuts := evenCuts(len(s.Cells), l.most)
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
	look   Look
	write  func(string)
	cell   int   // columns of the screen a stitch takes
	most   int   // stitches in a line, as many as can be
	label  int   // columns of the row number
	number []int // of the stitch in each column, from 1; 0 in an empty cell
	leans  []bool
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
	l.most = max(1, len(l.Cells))
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
	signs := l.signs(columns, l.Signs)
	if signs != "" {
		l.write(margin + signs)
	}
	if l.Ruler || signs != "" {
		if ruler := l.ruler(columns, len(margin)); ruler != "" {
			l.write(l.look.Paint.Quiet(ruler))
		}
	}
	if l.Below != nil {
		l.write(l.look.Paint.Quiet(fmt.Sprintf("%*d ", l.label, l.Row-1)+strings.Repeat(" ", paint.Width(left))) + l.cells(l.Below, columns))
		if signs := l.signs(columns, l.SignsBelow); signs != "" {
			l.write(l.look.Paint.Quiet(margin + signs))
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
			symbols := strings.Repeat(paint.Pad(string(l.Yarns[yarn].Symbol), l.cell), end-i)
			out.WriteString(yarnText(l.look, symbols, yarn, l.Yarns, l.leans))
		}
		i = end
	}
	return out.String()
}

// signs sets the signs under their stitches; empty when there is none.
func (l *stripLines) signs(columns []int, signs []string) string {
	if signs == nil {
		return ""
	}
	var out strings.Builder
	for _, i := range columns {
		out.WriteString(paint.Pad(signs[l.at(i)], l.cell))
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
