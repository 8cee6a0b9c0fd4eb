package document

import (
	"strings"

	"strandwise/cmd/paint"
)

// table writes cells below their heads. The last column takes what is left of the line and
// is broken over several; where that is too little, each row is a line of heads and cells.
func (t *textWriter) table(b Table) {
	widths, fixed, last := columnWidths(b), t.indent, len(b.Columns)-1
	for _, w := range widths[:last] {
		fixed += w + columnGap
	}
	if left := t.look.Width - fixed; widths[last] > left && (left < leastColumn || b.Columns[last].Number) {
		for _, row := range b.Rows {
			t.text(t.margin(), t.margin()+"  ", b.sentence(row), Usual)
		}
		return
	}
	heads := make([]Text, len(b.Columns))
	headed := false
	for i, c := range b.Columns {
		heads[i] = Text{{Text: c.Name, Tone: Quiet}}
		headed = headed || c.Name != ""
	}
	if headed {
		t.cells(b, widths, heads)
	}
	for _, row := range b.Rows {
		t.cells(b, widths, row)
	}
}

func columnWidths(b Table) []int {
	widths := make([]int, len(b.Columns))
	for i, c := range b.Columns {
		widths[i] = paint.Width(c.Name)
		for _, row := range b.Rows {
			widths[i] = max(widths[i], paint.Width(row[i].String()))
		}
	}
	return widths
}

func (t *textWriter) cells(b Table, widths []int, cells []Text) {
	label, under := t.margin(), t.margin()
	last := len(cells) - 1
	for i, cell := range cells {
		room := strings.Repeat(" ", widths[i]-paint.Width(cell.String()))
		switch {
		case i == last && !b.Columns[i].Number:
			if len(cell.String()) == 0 {
				t.lines(label)
				return
			}
			t.text(label, under, cell, Usual)
			return
		case b.Columns[i].Number:
			label += room + t.painted(cell, Usual)
		default:
			label += t.painted(cell, Usual) + room
		}
		label += strings.Repeat(" ", columnGap)
		under += strings.Repeat(" ", widths[i]+columnGap)
	}
	t.lines(label)
}
