package draw

import (
	"cmp"
	"fmt"
	"slices"

	"strandwise/floats"
	"strandwise/session"
)

// CutRows leaves the rows from one to another, both in; they must be among those known.
func (k *Knitted) CutRows(from, to int) {
	win := k.whole()
	win.rowFrom, win.rowTo = from, to
	k.cut = &win
}

// CutRepeats leaves the repeats from one to another, both in, of those that Repeats counts.
func (k *Knitted) CutRepeats(from, to int) {
	row, b := k.widest()
	k.cutRepeats(row, b, from, to)
}

// CutRepeatOf leaves the repeat, of all rows, in which a stitch of a row stands.
func (k *Knitted) CutRepeatOf(row, stitch int) {
	r := k.Piece.Row(row)
	repeat := r.PlaceOf(stitch).Repeat
	k.cutRepeats(r, r.BlockAt(stitch), repeat, repeat)
}

func (k *Knitted) cutRepeats(r *floats.Row, b *floats.Block, from, to int) {
	win := k.whole()
	one, other := r.FirstColumn(b, from), r.FirstColumn(b, to)
	win.columnFrom, win.columnTo = min(one, other), max(one, other)+b.Columns-1
	k.cut = &win
}

// Repeats is how many repeats the widest block has in the row whose ruler lies below the picture.
func (k *Knitted) Repeats() int {
	_, b := k.widest()
	return b.Repeats
}

func (k *Knitted) widest() (*floats.Row, *floats.Block) {
	below, _ := k.rulers(k.whole())
	row := k.Piece.Row(below)
	at := slices.MaxFunc(row.Blocks, func(a, b floats.Block) int {
		return cmp.Or(cmp.Compare(a.Columns*a.Repeats, b.Columns*b.Repeats), cmp.Compare(b.Number, a.Number))
	})
	return row, row.Block(at.Number)
}

// Around draws the wrong side about a gap to mend. Of a gap over the start of the round it shows the end of the lower
// row and beside it, a row lower, the start of the upper one, so that the strand runs on.
func Around(k *Knitted, m session.Mend) *Scene {
	lower, upper := k.Piece.Row(m.From.Row), k.Piece.Row(m.To.Row)
	if m.From.Row == m.To.Row {
		return k.around(m, session.ColumnOf(lower, m.From.Stitch), session.ColumnOf(lower, m.To.Stitch))
	}
	left := k.around(m, session.ColumnOf(lower, m.From.Stitch), session.ColumnOf(lower, lower.Stitches()))
	right := k.around(m, session.ColumnOf(upper, 1), session.ColumnOf(upper, m.To.Stitch))
	up := Point{0, newView(k, k.whole(), Options{}).cell.Y}
	if right.change(up, 1); lower.FromLeft {
		left, right = right, left
	}
	right.change(Point{left.Width, 0}, 1)
	left.Width, left.Height = left.Width+right.Width, max(left.Height, right.Height)+up.Y
	left.Shapes = append(left.Shapes, right.Shapes...)
	return left
}

// around draws columns, counted from 1 and in either order, with what is about them.
func (k *Knitted) around(m session.Mend, from, to int) *Scene {
	const stitches, rows = 8, 3 // enough to find it by its neighbors
	win := k.whole()
	s := newView(k, window{
		rowFrom: max(win.rowFrom, m.From.Row-rows), rowTo: min(win.rowTo, m.To.Row+rows),
		columnFrom: max(win.columnFrom, min(from, to)-1-stitches), columnTo: min(win.columnTo, max(from, to)-1+stitches),
	}, Options{Side: WrongSide, Bare: true}).draw(fmt.Sprintf(", around number %d to mend", m.Number))
	s.Compact = true // there are many
	return s
}

// Overview draws a large wrong side small, without strands, with a numbered pin at each gap to mend of every repeat.
func Overview(k *Knitted) *Scene {
	const wide, letter, radius = 170.0, 3.0, 1.9
	win := k.whole()
	v := newView(k, win, Options{Side: WrongSide, wide: min(readableCell*0.9, wide/float64(win.columns()))})
	v.letter, v.left, v.top, v.Compact = letter, 10, 7, true
	v.Name = k.Piece.State.Setup.Name + ", wrong side, the whole piece with a pin at each gap to mend"
	v.Description = fmt.Sprintf("Numbers 1 to %d of the mending list.", len(k.Mends))
	v.Width, v.Height = max(v.bodyWidth()+2*v.left, textWidth(v.Name, letter)), v.top+v.bodyHeight()+2*letter
	v.label("title", Point{v.left, letter * 1.4}, letter, Start, v.Name).Bold = true
	v.stitches()
	below, _ := k.rulers(win)
	v.repeatNames(below, v.Height-letter/2)
	step := numberStep(v.cell.Y, letter)
	for row := range v.rows() {
		if row%step == 0 {
			v.rowNumber(row, v.left-1, letter, End)
		}
	}
	for _, m := range k.Mends {
		place := k.Piece.PlaceOf(m.From.Row, m.From.Stitch)
		for _, place.Repeat = range m.Repeats {
			r := k.Piece.Row(m.From.Row)
			from := r.StitchAt(place)
			at := Point{v.x(v.entry(m.From.Row, min(from+m.Stitches/2, r.Stitches()))), v.y(m.From.Row) + v.cell.Y/2}
			v.disc("pin", at, radius, Ink{Fill: &white, Stroke: &warningRed, Width: 0.4}, k.spotData(m.From.Row, from, m.Yarn.Index)...)
			v.label("pin", at.plus(0, radius*0.5), radius*1.5, Middle, fmt.Sprint(m.Number))
		}
	}
	return v.Scene
}
