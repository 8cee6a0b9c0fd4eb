package draw

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"strandwise/chart"
	"strandwise/cmd/paint"
	"strandwise/floats"
	"strandwise/session"
)

// On a terminal a stitch is a character wide and two lines high, about square: what lies on it above its symbol,
// both on its color where there are colors.

const (
	strandSign  = '-'
	warningSign = '!'
)

// sign is a catch's letter, as a capital, so that it is none of the signs, or beyond z its sign. One that was moved
// points to where it was made.
func (f *fabricText) sign(r *floats.Row, m Mark) rune {
	switch {
	case (m.State == AsPlanned || m.State == ToMake) && len(m.Letter) == 1:
		return unicode.ToUpper(rune(m.Letter[0]))
	case m.State == Moved && (session.ColumnOf(r, m.To) > session.ColumnOf(r, m.Stitch)) == f.wrong:
		return '>'
	}
	return states[m.State].sign
}

// FabricText writes what is shown of a piece, the top row first, with its rulers; one too wide for the look in parts
// of whole repeats or of tens of columns. For a screen reader each row is a sentence.
func FabricText(w io.Writer, k *Knitted, side Side, look paint.Look) error {
	f := &fabricText{
		terminal: terminal{look: look, yarns: k.Piece.Layout.Fabric.Yarns},
		k:        k, win: k.whole(), wrong: side == WrongSide, spans: k.spans(),
	}
	if look.Plain {
		f.sentences()
	} else {
		f.drawn(side)
	}
	_, err := io.WriteString(w, f.String())
	return err
}

type fabricText struct {
	terminal
	k     *Knitted
	win   window
	wrong bool
	spans [][]span // index 0 is row 1
}

func (f *fabricText) drawn(side Side) {
	from, to := f.win.rowFrom, f.win.rowTo
	widest, whole, margin := 0, 10, len(fmt.Sprint(to))+1
	for row := from; row <= to; row++ {
		widest = max(widest, f.k.Piece.Row(row).Columns())
	}
	below, above := f.k.rulers(f.win)
	if width := len(f.k.Piece.Row(below).Cells); width <= f.look.Width-margin {
		whole = width
	}
	f.quiet(f.wrapped("", string(side)+" side"+f.planned(from)+":")...)
	f.inParts(f.win.columnFrom, min(widest, f.win.columnTo+1), f.look.Width-margin, whole, func(begin, end int) {
		if above > 0 {
			stitches, repeats := f.ruler(above, begin, end, margin)
			f.quiet(repeats, stitches)
		}
		for row := to; row >= from; row-- {
			if row == f.k.Made && row < to {
				f.quiet(strings.Repeat(" ", margin) + "above as planned, below as made")
			}
			f.row(row, fromLeft(begin, end, f.wrong), margin)
		}
		f.quiet(f.ruler(below, begin, end, margin))
	})
	f.legend()
}

func (f *fabricText) planned(row int) string {
	if row > f.k.Made {
		return ", as planned"
	}
	return ""
}

func (f *fabricText) row(row int, columns []int, margin int) {
	r := f.k.Piece.Row(row).Course
	for _, marks := range slices.Backward(f.marksOf(row)) {
		f.line(strings.Repeat(" ", margin) + f.colored(r, columns, func(column, _ int) string { return string(marks[column]) }))
	}
	f.line(fmt.Sprintf("%*d ", margin-1, row) + f.colored(r, columns, func(_, yarn int) string {
		if yarn == chart.NoYarn {
			return f.look.Marks.Blank
		}
		return f.k.symbol(yarn)
	}))
}

// ruler numbers every fifth stitch of a row from column begin up to end, its last digit in its column, and on a line
// of their own its repeats at their first stitches, where there is room.
func (f *fabricText) ruler(row, begin, end, margin int) (stitches, repeats string) {
	r, numbers, names := f.k.Piece.Row(row), blanks(margin+end-begin), blanks(margin+end-begin)
	for _, t := range ticks(r, begin, end-1) {
		at := margin + t.column - begin
		if !f.wrong {
			at = margin + end - 1 - t.column
		}
		if t.Stitch%5 == 0 {
			numbers.set(at, fmt.Sprint(t.Stitch))
		}
		name := strings.TrimPrefix(fmt.Sprintf("%d/@%d", t.Block, t.Repeat), "0/") // of the only block
		if r.FromLeft != f.wrong {
			at += len(name) - 1
		}
		if t.Stitch == 1 && r.Repeats() > 1 {
			names.set(at, name)
		}
	}
	return string(numbers), string(names)
}

// marksOf gives the signs of a row by column, the lowest line first: catches, and on the wrong side strands behind
// them. A gap over the limit takes the lowest line with room for its number, so that none hides another.
func (f *fabricText) marksOf(row int) [][]rune {
	r, blank := f.k.Piece.Row(row), []rune(strings.Repeat(" ", f.k.Columns()))
	lines := [][]rune{slices.Clone(blank)}
	var spans []span
	if f.wrong {
		spans = f.spans[row-1]
	}
	columnsOf := func(first, last int) (columns []int) {
		for stitch := first; stitch <= last; stitch++ {
			columns = append(columns, session.ColumnOf(r, stitch)-1)
		}
		slices.Sort(columns)
		return columns
	}
	for _, s := range spans {
		for _, c := range columnsOf(s.first, s.last) {
			lines[0][c] = strandSign
		}
	}
	for _, m := range f.k.Marks[row-1] {
		if c := session.ColumnOf(r, m.Stitch); c > 0 {
			lines[0][c-1] = f.sign(r, m)
		}
	}
	for _, s := range spans {
		for _, m := range s.mends {
			columns, number := columnsOf(m.first, m.last), fmt.Sprint(m.number)
			marked := func(line []rune) bool { return warn(line, columns, number) }
			if !slices.ContainsFunc(lines, marked) {
				lines = append(lines, slices.Clone(blank))
				warn(lines[len(lines)-1], columns, number)
			}
		}
	}
	return lines
}

// warn marks a gap to mend on columns of a line, but for its catches, with its number where they are enough for one;
// it reports false where the line has no room for that.
func warn(line []rune, columns []int, number string) (told bool) {
	occupied := func(c int) bool { return line[c] != ' ' && line[c] != strandSign }
	digit := func(c int) bool { return c >= 0 && c < len(line) && unicode.IsDigit(line[c]) }
	taken := func(c int) bool { return digit(c) || line[c] == warningSign }
	if slices.ContainsFunc(columns, taken) {
		return false
	}
	at, room, places := -1, false, len(columns)-len(number)+1
	for i := range places {
		run := columns[(i+1)%places:][:len(number)] // not at once at the end
		first, last := run[0], run[len(run)-1]
		together := last-first < len(run) // else a place without a stitch lies between
		room = room || together
		if at < 0 && together && !slices.ContainsFunc(run, occupied) && !digit(first-1) && !digit(last+1) {
			at = first
		}
	}
	if at < 0 && room {
		return false
	}
	for _, c := range columns {
		if !occupied(c) {
			line[c] = warningSign
			told = true
		}
	}
	if at >= 0 {
		copy(line[at:], []rune(number))
	}
	return told
}

func (f *fabricText) legend() {
	var parts []string
	if f.wrong {
		parts = append(parts, "- a strand", "! a gap over the limit, with its number in the mending list")
	}
	parts = append(parts, "A to Z a catch by its letter", "x missed", "< > moved, to where it points", "+ made and not planned there")
	for _, y := range f.yarns {
		parts = append(parts, fmt.Sprintf("%c %s", y.Symbol, y.Name))
	}
	f.line("")
	f.quiet(f.wrapped("", strings.Join(append(parts, f.k.rulerWords(f.win)), "; "))...)
}

// sentences tells each row, the lowest first: its stitches on the right side, its strands on the
// wrong side.
func (f *fabricText) sentences() {
	for row := f.win.rowFrom; row <= f.win.rowTo; row++ {
		words := f.rowWords
		if f.wrong {
			words = f.strandWords
		}
		f.say(capital(fmt.Sprintf("%s %d%s%s.", f.k.rowWord(), row, f.planned(row), words(row))))
	}
}

func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

func (f *fabricText) strandWords(row int) string {
	strands := f.k.Piece.FoldRepeats(row, func(add func(int, string)) {
		for _, s := range f.spans[row-1] {
			a, z := session.ColumnOf(f.k.Piece.Row(row), s.first)-1, session.ColumnOf(f.k.Piece.Row(row), s.last)-1
			if max(a, z) >= f.win.columnFrom && min(a, z) <= f.win.columnTo {
				add(s.first, f.spanWords(s))
			}
		}
	})
	if len(strands) == 0 {
		return ": no strands"
	}
	return ": " + strings.Join(strands, "; ")
}

func (f *fabricText) spanWords(s span) string {
	p := f.k.Piece
	text := f.yarns[s.Yarn].Name + " runs behind " + p.StretchWords(p.Spot(s.row, s.first), p.Spot(s.row, s.last))
	for _, stitch := range s.caught {
		catch := "an extra catch"
		if letter := p.LetterOf(s.row, session.Mark{Stitch: stitch, Yarn: s.Yarn}); letter != "" {
			catch = "catch " + strings.ToUpper(letter)
		}
		text += ", " + catch + " on " + session.StitchFrom(p.PlaceOf(s.row, s.first), p.PlaceOf(s.row, stitch))
	}
	for _, m := range s.mends {
		text += fmt.Sprintf(", number %d to mend", m.number)
	}
	if strings.Contains(text, ",") {
		text += ","
	}
	return text
}

func (f *fabricText) rowWords(row int) string {
	var lines []string
	for i, g := range f.k.Piece.Sheet(row).Glances() {
		head := capital(g.Head())
		if i == 0 {
			head = strings.TrimPrefix(head, fmt.Sprint(row))
		}
		var runs []string
		for _, p := range g.Phrases {
			runs = append(runs, p.Aloud)
		}
		lines = append(lines, head+" "+strings.Join(runs, "; "))
	}
	return strings.Join(lines, ". ")
}
