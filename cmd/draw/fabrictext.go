package draw

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
	"strandwise/session"
)

// The fabric on a terminal: a stitch is a character wide and two lines high, about square. The
// upper line has what lies on the stitch, the lower one its symbol, both on its color where there
// are colors.

// The characters that stand on stitches.
const (
	strandSign  = '-'
	warningSign = '!'
)

// markSigns are those of catches.
var markSigns = [...]rune{AsPlanned: 'o', NotMade: 'x', Unplanned: '+'}

// FabricText writes rows of a piece, the top row first, from one row to another, both in. A
// fabric too wide for the look is written in parts of whole tens of columns, each with its own row
// numbers. For a screen reader each row is a sentence.
func FabricText(w io.Writer, k *Knitted, side Side, from, to int, look paint.Look) error {
	f := &fabricText{terminal: terminal{w: w, look: look, yarns: k.Piece.Layout.Fabric.Yarns}, k: k, wrong: side == WrongSide, spans: k.spans()}
	if look.Plain {
		f.sentences(from, to)
		return f.err
	}
	widest, digits := 0, len(fmt.Sprint(to))
	for row := from; row <= to; row++ {
		widest = max(widest, k.Piece.Row(row).Columns())
	}
	f.inParts(widest, look.Width-digits-1, 10, func(begin, end int) {
		f.say(fmt.Sprintf("%s side, columns %d to %d:", side, begin+1, end), look.Paint.Quiet)
		for row := to; row >= from; row-- {
			f.row(row, begin, end, digits)
		}
	})
	f.legend()
	return f.err
}

type fabricText struct {
	terminal
	k     *Knitted
	wrong bool
	spans [][]span
}

// row writes one row's columns from begin up to end.
func (f *fabricText) row(row, begin, end, digits int) {
	r, marks := f.k.Piece.Row(row), f.marksOf(row)
	yarn := func(c int) int {
		if c < r.Columns() {
			return cellAt(r, c).Yarn
		}
		return chart.NoYarn
	}
	symbol := func(c int) string {
		if y := yarn(c); y != chart.NoYarn {
			return f.k.symbol(y)
		}
		return f.look.Marks.Blank
	}
	f.line(strings.Repeat(" ", digits+1) + f.colored(begin, end, f.wrong, yarn, func(c int) string { return string(marks[c]) }))
	f.line(fmt.Sprintf("%*d ", digits, row) + f.colored(begin, end, f.wrong, yarn, symbol))
}

// marksOf gives the signs of a row by column: strands on the wrong side, gaps over the limit
// with their number, and on both sides the catches over all else.
func (f *fabricText) marksOf(row int) []rune {
	r, marks := f.k.Piece.Row(row), []rune(strings.Repeat(" ", f.k.Columns()))
	if f.wrong {
		for _, s := range f.spans[row-1] {
			f.markSpan(marks, s)
		}
	}
	for _, m := range f.k.Marks[row-1] {
		if c := session.ColumnOf(r, m.Stitch); c > 0 {
			marks[c-1] = markSigns[m.State]
		}
	}
	return marks
}

// markSpan marks a strand, and over it its gaps to mend: each with its number from its lowest
// column on, as far as there is room.
func (f *fabricText) markSpan(marks []rune, s span) {
	r := f.k.Piece.Row(s.row)
	for stitch := s.first; stitch <= s.last; stitch++ {
		marks[session.ColumnOf(r, stitch)-1] = strandSign
	}
	for _, b := range s.bows {
		if b.mend == nil {
			continue
		}
		var columns []int
		for stitch := b.first; stitch <= b.last; stitch++ {
			columns = append(columns, session.ColumnOf(r, stitch)-1)
			marks[columns[len(columns)-1]] = warningSign
		}
		slices.Sort(columns)
		for i, digit := range fmt.Sprint(b.mend.Number) {
			if len(fmt.Sprint(b.mend.Number))+2 <= len(columns) {
				marks[columns[1+i]] = digit
			}
		}
	}
}

func (f *fabricText) legend() {
	parts := []string{"o a catch", "x planned and not made", "+ made and not planned"}
	if f.wrong {
		parts = append([]string{"- a strand", "! a gap over the limit, with its number in the mending list"}, parts...)
	}
	for _, y := range f.yarns {
		parts = append(parts, fmt.Sprintf("%c %s", y.Symbol, y.Name))
	}
	f.line("")
	f.say(strings.Join(parts, "; "), f.look.Paint.Quiet)
}

// sentences tells each row, the lowest first: its stitches on the right side, its strands on the
// wrong side.
func (f *fabricText) sentences(from, to int) {
	word := f.k.rowWord()
	for row := from; row <= to; row++ {
		words := f.rowWords(row)
		if f.wrong {
			words = f.strandWords(row)
		}
		f.say(fmt.Sprintf("%s%s %d: %s.", strings.ToUpper(word[:1]), word[1:], row, words), nil)
	}
}

func (f *fabricText) strandWords(row int) string {
	var parts []string
	for _, s := range f.spans[row-1] {
		behind := fmt.Sprintf("stitches %d to %d", s.first, s.last)
		if s.first == s.last {
			behind = fmt.Sprintf("stitch %d", s.first)
		}
		text := f.yarns[s.Yarn].Name + " runs behind " + behind
		if len(s.caught) > 0 {
			text += ", caught on " + listed(s.caught)
		}
		for _, b := range s.bows {
			if b.mend != nil {
				text += fmt.Sprintf(", number %d to mend", b.mend.Number)
			}
		}
		parts = append(parts, text)
	}
	if len(parts) == 0 {
		return "no strands"
	}
	return strings.Join(parts, "; ")
}

// rowWords tells a row's runs over all repeats in knitting order.
func (f *fabricText) rowWords(row int) string {
	r := f.k.Piece.Row(row)
	var stitches []int
	for range r.Repeats {
		for _, s := range r.InOrder() {
			stitches = append(stitches, s.Yarn)
		}
	}
	return f.runs(stitches)
}
