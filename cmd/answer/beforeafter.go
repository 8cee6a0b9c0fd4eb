package answer

import (
	"fmt"
	"slices"

	d "strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/session"
)

// beforeAfter draws the wrong side of the same rows twice, as far as the piece has them.
func beforeAfter(before, after *draw.Knitted, from, to int, o draw.Options) (blocks []d.Block) {
	parts := [2][]*draw.Scene{}
	o.Side = draw.WrongSide
	for i, k := range []*draw.Knitted{before, after} {
		if from <= k.Rows {
			k.CutRows(from, min(to, k.Rows))
			parts[i] = draw.OnPage(k, o)
		}
	}
	for part := range max(len(parts[0]), len(parts[1])) {
		for i, word := range []string{"Before:", "After:"} {
			if part < len(parts[i]) {
				blocks = append(blocks, d.Line{Text: d.Words(word)}, d.Picture{Drawing: parts[i][part]})
			}
		}
	}
	return blocks
}

// Page draws the rows that change as well, as they were planned and as they are now.
func (a *Replan) Page() d.Document {
	page := a.Document()
	page.Title = a.Piece + ": planned anew"
	if n := len(a.Changed); n > 0 {
		last := a.Changed[n-1]
		before := draw.WithRowsToCome(a.before, min(last, a.before.Rows()), nil)
		after := draw.WithRowsToCome(a.after, min(last, a.after.Rows()), nil)
		page.Blocks = append(page.Blocks, beforeAfter(before, after, a.Changed[0], last, draw.Options{})...)
	}
	return page
}

// otherwise draws each row that was made otherwise than planned, before and after: the first repeat
// in which something changed. Above the last stands the row to come, in which that may move catches.
func (a *Review) otherwise() (blocks []d.Block) {
	to := min(a.Row+1, a.Of)
	before, after := draw.AsShown(a.piece, to), draw.WithRowsToCome(a.piece, to, nil)
	for _, row := range a.Rows {
		stitch := firstChanged(row.Changes)
		if stitch == 0 {
			continue
		}
		title := fmt.Sprintf("Otherwise than planned: %s %d, repeat %d", a.word(), row.Row, a.piece.PlaceOf(row.Row, stitch).Repeat)
		blocks = append(blocks, d.Heading{Text: d.Words(title), Sub: true})
		before.CutRepeatOf(row.Row, stitch)
		after.CutRepeatOf(row.Row, stitch)
		last := row.Row
		if last == a.Row {
			last = to
		}
		blocks = append(blocks, beforeAfter(before, after, row.Row, last, draw.Options{Bare: true})...)
	}
	return blocks
}

// firstChanged is the first stitch of a row whose catch was made otherwise, 0 for none.
func firstChanged(c session.Changes) int {
	marks := slices.Concat(c.Missed, c.Extra, mapped(c.Moved, func(m session.Move) session.Mark { return m.From }))
	if len(marks) == 0 {
		return 0
	}
	return slices.MinFunc(marks, session.Mark.Compare).Stitch
}
