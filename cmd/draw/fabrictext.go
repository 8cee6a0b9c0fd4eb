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

// FabricText writes rows of a piece, the top row first, from one row to another, both in. A
// fabric too wide for the look is written in parts of whole tens of columns, each with its own row
// numbers. For a screen reader each row is a sentence.
func FabricText(w io.Writer, k *Knitted, side Side, from, to int, look paint.Look) error {
	f := &fabricText{lines: lines{w: w, look: look}, k: k, wrong: side == WrongSide, mends: k.mendsAt(), pieces: k.pieces()}
	if look.Plain {
		f.sentences(from, to)
		return f.err
	}
	digits := len(fmt.Sprint(to))
	widest := f.widest(from, to)
	part := max(10, look.Width-digits-1)
	if part < widest {
		part = part / 10 * 10
	}
	for begin := 0; begin < widest; begin += part {
		end := min(begin+part, widest)
		if begin > 0 {
			f.line("")
		}
		f.say(fmt.Sprintf("%s side, columns %d to %d:", side, begin+1, end), look.Paint.Quiet)
		for row := to; row >= from; row-- {
			f.row(row, begin, end, digits)
		}
	}
	f.legend()
	return f.err
}

type fabricText struct {
	lines
	k      *Knitted
	wrong  bool
	mends  map[gapStart]*session.Mend
	pieces [][]strandSpan
}

func (f *fabricText) widest(from, to int) int {
	widest := 0
	for row := from; row <= to; row++ {
		widest = max(widest, f.k.Piece.Row(row).Columns())
	}
	return widest
}

// The characters of a row by column, from column 1: what stands on the stitches.
const (
	strandSign  = '-'
	warningSign = '!'
	madeSign    = 'o'
	missedSign  = 'x'
	newSign     = '+'
)

// row writes one row's columns from begin up to end.
func (f *fabricText) row(row, begin, end, digits int) {
	marks := f.marksOf(row)
	f.line(strings.Repeat(" ", digits+1) + f.inOrder(row, begin, end, func(c int) string { return string(marks[c]) }))
	f.line(fmt.Sprintf("%*d ", digits, row) + f.inOrder(row, begin, end, func(c int) string { return f.symbol(row, c) }))
}

// inOrder joins what stands on columns from the left of the side shown: column 1 first on the
// wrong side, last on the right side. Neighbouring stitches of one yarn are colored together.
func (f *fabricText) inOrder(row, begin, end int, of func(column int) string) string {
	var line, run strings.Builder
	last := chart.NoYarn
	flush := func() {
		if last == chart.NoYarn {
			line.WriteString(run.String())
		} else {
			line.WriteString(f.look.Paint.Yarn(run.String(), f.k.Piece.Layout.Fabric.Yarns[last].Color))
		}
		run.Reset()
	}
	for i := begin; i < end; i++ {
		c := i
		if !f.wrong {
			c = end - 1 - (i - begin)
		}
		if yarn := f.yarn(row, c); yarn != last {
			flush()
			last = yarn
		}
		run.WriteString(of(c))
	}
	flush()
	return line.String()
}

func (f *fabricText) yarn(row, column int) int {
	if r := f.k.Piece.Row(row); column < r.Columns() {
		return cellAt(r, column).Yarn
	}
	return chart.NoYarn
}

func (f *fabricText) symbol(row, column int) string {
	if yarn := f.yarn(row, column); yarn != chart.NoYarn {
		return f.k.symbol(yarn)
	}
	return f.look.Marks.Blank
}

// marksOf gives the signs of a row by column: strands on the wrong side, gaps over the limit
// with their number, and on both sides the catches over all else.
func (f *fabricText) marksOf(row int) []rune {
	marks := []rune(strings.Repeat(" ", f.k.Columns()))
	if f.wrong {
		for _, p := range f.pieces[row-1] {
			f.markStrand(marks, p)
		}
	}
	r := f.k.Piece.Row(row)
	for _, m := range f.k.Marks[row-1] {
		if c := session.ColumnOf(r, m.Stitch); c > 0 {
			marks[c-1] = [...]rune{AsPlanned: madeSign, NotMade: missedSign, Unplanned: newSign}[m.State]
		}
	}
	return marks
}

func (f *fabricText) markStrand(marks []rune, p strandSpan) {
	r := f.k.Piece.Row(p.row)
	var mend *session.Mend
	var columns []int // of the gap over the limit that is under way
	flush := func() {
		if mend != nil {
			f.markMend(marks, columns, mend)
		}
		mend, columns = nil, nil
	}
	caught := map[int]bool{}
	for _, c := range p.caught {
		caught[c] = true
	}
	for stitch := p.first; stitch <= p.last; stitch++ {
		column := session.ColumnOf(r, stitch) - 1
		if caught[stitch] {
			flush()
		}
		if m := f.mends[gapStart{p.strand.Yarn, p.row, stitch}]; m != nil {
			mend = m
		}
		marks[column] = strandSign
		columns = append(columns, column)
	}
	flush()
}

// markMend marks a gap and sets its number where it reads from the left, as far as there is room.
func (f *fabricText) markMend(marks []rune, columns []int, m *session.Mend) {
	for _, c := range columns {
		marks[c] = warningSign
	}
	slices.Sort(columns)
	if !f.wrong {
		slices.Reverse(columns)
	}
	digits := []rune(fmt.Sprint(m.Number))
	if len(columns) < len(digits)+2 {
		return
	}
	for i, d := range digits {
		marks[columns[1+i]] = d
	}
}

func (f *fabricText) legend() {
	parts := []string{"o a catch", "x planned and not made", "+ made and not planned"}
	if f.wrong {
		parts = append([]string{"- a strand", "! a gap over the limit, with its number in the mending list"}, parts...)
	}
	for _, y := range f.k.Piece.Layout.Fabric.Yarns {
		parts = append(parts, fmt.Sprintf("%c %s", y.Symbol, y.Name))
	}
	f.line("")
	f.say(strings.Join(parts, "; "), f.look.Paint.Quiet)
}

// sentences tells each row, the lowest first: its stitches on the right side, its strands on the
// wrong side.
func (f *fabricText) sentences(from, to int) {
	for row := from; row <= to; row++ {
		if f.wrong {
			f.sentence(row, f.strandWords(row))
		} else {
			f.sentence(row, f.runWords(row))
		}
	}
}

// sentence writes what a row is, with its number.
func (f *fabricText) sentence(row int, words string) {
	word := f.k.rowWord()
	f.say(fmt.Sprintf("%s%s %d: %s.", strings.ToUpper(word[:1]), word[1:], row, words), nil)
}

func (f *fabricText) strandWords(row int) string {
	var parts []string
	for _, p := range f.pieces[row-1] {
		text := fmt.Sprintf("%s runs behind stitches %d to %d", f.k.Piece.Layout.Fabric.Yarns[p.strand.Yarn].Name, p.first, p.last)
		if p.first == p.last {
			text = fmt.Sprintf("%s runs behind stitch %d", f.k.Piece.Layout.Fabric.Yarns[p.strand.Yarn].Name, p.first)
		}
		if len(p.caught) > 0 {
			text += ", caught on " + listed(p.caught)
		}
		for stitch := p.first; stitch <= p.last; stitch++ {
			if m := f.mends[gapStart{p.strand.Yarn, row, stitch}]; m != nil {
				text += fmt.Sprintf(", number %d to mend", m.Number)
			}
		}
		parts = append(parts, text)
	}
	if len(parts) == 0 {
		return "no strands"
	}
	return strings.Join(parts, "; ")
}

// runWords tells a row's runs over all repeats in knitting order.
func (f *fabricText) runWords(row int) string {
	r := f.k.Piece.Row(row)
	var parts []string
	last, count := chart.NoYarn, 0
	end := func() {
		if count > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", count, f.k.Piece.Layout.Fabric.Yarns[last].Name))
		}
	}
	for range r.Repeats {
		for _, s := range r.InOrder() {
			if s.Yarn != last {
				end()
				last, count = s.Yarn, 0
			}
			count++
		}
	}
	end()
	return strings.Join(parts, ", ")
}
