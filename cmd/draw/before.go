package draw

import "strandwise/session"

// AsShown is the rows of a piece up to one as they were to be: the finished ones with the catches
// their sheets showed, those to come as they were planned before any row was made otherwise.
func AsShown(p *session.Piece, to int) *Knitted {
	k := &Knitted{Piece: p, Rows: to, Begin: 1}
	for row := 1; row <= to; row++ {
		k.Marks = append(k.Marks, k.marks(row, p.AsPlanned(row), nil))
	}
	k.Strands = p.Strands(to, p.AsPlanned)
	return k
}

// CutRepeatOf leaves the repeat, of all rows, in which a stitch of a row stands.
func (k *Knitted) CutRepeatOf(row, stitch int) {
	course, win := k.Piece.Row(row), k.whole()
	block := course.BlockAt(stitch)
	win.columnFrom = course.FirstColumn(block, course.PlaceOf(stitch).Repeat)
	win.columnTo = win.columnFrom + block.Columns - 1
	k.cut = &win
}
