package session

import (
	"slices"

	"strandwise/floats"
)

// Difference is how a new plan for the rows to come differs from the one in force.
type Difference struct {
	Rows            []int // rows to come, from 1, whose catches or stitches are not the same
	Before, After   int   // catches in the rows to come
	RowsIn, RowsNow int   // rows of the whole piece, before and after
	Left, Needed    int   // stitches the last finished row left, and the first row to come uses up
}

// Differ compares the rows to come of a piece with those of the same piece planned
// anew. Catches are compared by stitch and by the yarn's symbol.
func Differ(before, after *Piece) Difference {
	d := Difference{RowsIn: before.Rows(), RowsNow: after.Rows()}
	for row := before.State.Row + 1; row <= max(d.RowsIn, d.RowsNow); row++ {
		was, now := before.planned(row), after.planned(row)
		d.Before, d.After = d.Before+len(was), d.After+len(now)
		if !slices.Equal(was, now) || !slices.Equal(before.symbols(row), after.symbols(row)) {
			d.Rows = append(d.Rows, row)
		}
	}
	if row := after.State.Row; row > 0 && row < after.Rows() {
		d.Left, d.Needed = stitchesAfter(after.Row(row)), stitchesUsed(after.Row(row+1))
	}
	return d
}

// stitchesUsed is how many stitches of the row below a row uses up.
func stitchesUsed(r *floats.Row) int {
	n := 0
	for _, s := range r.InOrder() {
		n += s.Technique.Uses()
	}
	return n * r.Repeats
}

// named is a catch by the symbol of its yarn.
type named struct {
	stitch int
	yarn   rune
}

// planned gives the plan's catches of a row, none for a row the piece has not.
func (p *Piece) planned(row int) []named {
	var out []named
	for _, m := range p.Schedule.Row(row) {
		out = append(out, named{m.Stitch, p.Layout.Fabric.Yarns[m.Yarn].Symbol})
	}
	return out
}

// symbols gives the yarns of a row's stitches over all repeats.
func (p *Piece) symbols(row int) []rune {
	if row > p.Rows() {
		return nil
	}
	r := p.Row(row)
	var out []rune
	for range r.Repeats {
		for _, s := range r.InOrder() {
			out = append(out, p.Layout.Fabric.Yarns[s.Yarn].Symbol)
		}
	}
	return out
}
