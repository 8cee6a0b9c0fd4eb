package session

import (
	"cmp"
	"slices"

	"strandwise/floats"
)

// Difference is how a new plan for the rows to come differs from the one in force.
type Difference struct {
	Rows            []RowChange // rows to come whose catches or stitches are not the same, upward
	Before, After   int         // catches in the rows to come
	RowsIn, RowsNow int         // rows of the whole piece, before and after
	Left, Needed    int         // stitches the last row of the old plan leaves, and the first of the new uses up
}

// RowChange is one row that is not as it was.
type RowChange struct {
	Row   int       // from 1
	Other bool      // the row is worked in other stitches, or is not in both pieces
	Gone  []CatchOf // planned before and no more, in knitting order; of another row all
	Come  []CatchOf // planned now and not before; of another row all
}

// CatchOf is a catch by the symbol of its yarn, which stays when yarns are numbered
// anew. Stitches count in knitting order over the whole row, from 1.
type CatchOf struct {
	Stitch int
	Symbol rune
}

// ComparePlans compares the rows to come of a piece with those of the same piece planned
// anew. Catches are compared by stitch and by the yarn's symbol, those of the row to
// work next as they are shown above what was made below it.
func ComparePlans(before, after *Piece) Difference {
	d := Difference{RowsIn: before.Rows(), RowsNow: after.Rows()}
	for row := before.State.Row + 1; row <= max(d.RowsIn, d.RowsNow); row++ {
		was, now := before.catchesOf(row), after.catchesOf(row)
		d.Before, d.After = d.Before+len(was), d.After+len(now)
		change := RowChange{Row: row, Gone: was, Come: now, Other: !slices.Equal(before.symbols(row), after.symbols(row))}
		if !change.Other {
			change.Gone, change.Come = without(was, now, compareCatches), without(now, was, compareCatches)
		}
		if change.Other || len(change.Gone)+len(change.Come) > 0 {
			d.Rows = append(d.Rows, change)
		}
	}
	if row := after.State.FirstToPlan() - 1; row > 0 && row < after.Rows() {
		d.Left, d.Needed = stitchesAfter(after.Row(row)), stitchesUsed(after.Row(row+1))
	}
	return d
}

func compareCatches(a, b CatchOf) int {
	return cmp.Or(cmp.Compare(a.Stitch, b.Stitch), cmp.Compare(a.Symbol, b.Symbol))
}

// stitchesAfter is how many stitches a row leaves on the needle.
func stitchesAfter(r *floats.Row) int {
	n := 0
	for _, s := range r.InOrder() {
		n += s.Technique.Makes()
	}
	return n * r.Repeats
}

// stitchesUsed is how many stitches of the row below a row uses up.
func stitchesUsed(r *floats.Row) int {
	n := 0
	for _, s := range r.InOrder() {
		n += s.Technique.Uses()
	}
	return n * r.Repeats
}

// catchesOf gives the catches of a row to come, none for a row the piece has not.
func (p *Piece) catchesOf(row int) []CatchOf {
	if row > p.Rows() {
		return nil
	}
	var out []CatchOf
	for _, m := range p.Shown(row) {
		out = append(out, CatchOf{m.Stitch, p.Layout.Fabric.Yarns[m.Yarn].Symbol})
	}
	slices.SortFunc(out, compareCatches)
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
