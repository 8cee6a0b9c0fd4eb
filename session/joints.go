package session

import "fmt"

// Where a part begins, it may use up another number of stitches than the row below leaves on the
// needle: a rib of 20 stitches, a band of 24. What the chart of one part says is no help there, so
// both numbers are told, at the cast-on and on the row.

// Misfit is such a row.
type Misfit struct {
	Row          int // from 1
	Left, Needed int // stitches the row below leaves, and the row uses up
	Below, Part  string
}

// Misfits lists the rows that do not fit those below, where a part or a copy of one begins.
func (l *Layout) Misfits() []Misfit {
	var all []Misfit
	for row := 2; row <= len(l.Fabric.Rows); row++ {
		if m, is := l.misfit(row); is {
			all = append(all, m)
		}
	}
	return all
}

func (l *Layout) misfit(row int) (Misfit, bool) {
	below, here := &l.Fabric.Rows[row-2], &l.Fabric.Rows[row-1]
	if below.Part == here.Part && below.Copy == here.Copy {
		return Misfit{}, false // within a chart, which is checked by itself
	}
	m := Misfit{row, below.Makes(), here.Uses(), l.Parts[below.Part].Title(), l.Parts[here.Part].Title()}
	return m, m.Left != m.Needed
}

// Words tells both numbers, where rows are called so: "round 5 of band uses up 24 stitches, and
// round 4 of plain oat leaves 20".
func (m Misfit) Words(row string) string {
	return fmt.Sprintf("%s %d of %s uses up %s, and %s %d of %s leaves %d",
		row, m.Row, m.Part, plural(m.Needed, "stitch"), row, m.Row-1, m.Below, m.Left)
}

// What a knitter is told of a steek (common practice): the stitches are held before the scissors
// come near, since a cut cannot be taken back.
var steekCautions = []string{
	"Before a steek is cut: secure the stitches on both sides of the cut first, by sewing or crochet, through every row from edge to edge, and try it on a swatch.",
	"A cut cannot be undone. Count the stitches and find the middle before you take the scissors.",
}

// Cautions are the warnings that go with a piece: those of its item, and of a steek.
func (e *CastOn) Cautions() []string {
	all := e.Item.Cautions()
	for _, b := range AllBlocks(e.Parts) {
		if b.Steek > 0 {
			return append(all[:len(all):len(all)], steekCautions...)
		}
	}
	return all
}
