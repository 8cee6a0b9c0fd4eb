package draw

import (
	"cmp"
	"slices"

	"strandwise/floats"
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
