package draw

import (
	"cmp"
	"fmt"
	"slices"

	"strandwise/floats"
	"strandwise/session"
)

// A picture may be of a part of a piece: rows from one to another, and of them some repeats.

// CutRows leaves the rows from one to another, both in; they must be among those known.
func (k *Knitted) CutRows(from, to int) {
	win := k.whole()
	win.rowFrom, win.rowTo = from, to
	k.cut = &win
}

// CutRepeats leaves the repeats from one to another, both in, of those that Repeats counts.
func (k *Knitted) CutRepeats(from, to int) {
	win := k.whole()
	row, b := k.widest()
	a, z := row.FirstColumn(b, from), row.FirstColumn(b, to)
	win.columnFrom, win.columnTo = min(a, z), max(a, z)+b.Columns-1
	k.cut = &win
}

// Repeats is how many repeats the widest block has in the row whose stitches are numbered below
// the picture.
func (k *Knitted) Repeats() int {
	_, b := k.widest()
	return b.Repeats
}

func (k *Knitted) widest() (*floats.Row, *floats.Block) {
	win := k.whole()
	below, _ := k.rulers(win.rowFrom, win.rowTo)
	row := k.Piece.Row(below)
	at := slices.MaxFunc(row.Blocks, func(a, b floats.Block) int {
		return cmp.Or(cmp.Compare(a.Columns*a.Repeats, b.Columns*b.Repeats), cmp.Compare(b.Number, a.Number))
	})
	return row, row.Block(at.Number)
}

// How much is shown around a gap to mend: enough to find it by its neighbors.
const (
	aroundStitches = 8
	aroundRows     = 3
)

// Around draws the wrong side where a gap to mend lies, by itself, with what is about it. Of a
// gap over the start of the round it shows the end of the lower row.
func Around(k *Knitted, m session.Mend) *Scene {
	from, to := session.ColumnOf(k.Piece.Row(m.From.Row), m.From.Stitch)-1, 0
	if m.To.Row == m.From.Row {
		to = session.ColumnOf(k.Piece.Row(m.To.Row), m.To.Stitch) - 1
	} else {
		to = session.ColumnOf(k.Piece.Row(m.From.Row), k.Piece.Row(m.From.Row).Stitches()) - 1
	}
	win := k.whole()
	return newView(k, window{
		rowFrom: max(win.rowFrom, m.From.Row-aroundRows), rowTo: min(win.rowTo, m.To.Row+aroundRows),
		columnFrom: max(win.columnFrom, min(from, to)-aroundStitches), columnTo: min(win.columnTo, max(from, to)+aroundStitches),
	}, Options{Side: WrongSide, Bare: true}).draw(fmt.Sprintf(", around number %d to mend", m.Number))
}
