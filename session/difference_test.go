package session

import (
	"cmp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/floats"
)

// replannedAs is the piece with another limit and the catches a plan has then.
func (w *worked) replannedAs(limit int, plan planner) *Piece {
	state, err := w.state.With(&Replanned{Limit: limit})
	require.NoError(w.t, err)
	layout, err := state.Lay(w.charts)
	require.NoError(w.t, err)
	made := plan(layout.Fabric, state.Task())
	return &Piece{State: state, Layout: layout, Schedule: NewSchedule(made, len(layout.Fabric.Rows))}
}

// A plain round, then two of nine oat and one fjord three times round: fjord passes 9
// stitches twice within each of them and once from the one to the other.
func TestDifferenceRowByRow(t *testing.T) {
	w := beginWith(t, "x.........\nx.........\n..........", func(e *CastOn) { e.Parts[0].Repeats = 3 }, evenPlan)
	w.row(nil)
	after := w.replannedAs(3, evenPlan)
	// By hand, catches 4 stitches apart where the limit is 3 and 6 apart where it is 5:
	// row 2 within on 6 of repeats 2 and 3, then on 4 and 8; over the start from row 2
	// to 3 on 6 of repeat 1, then on 4 and 8.
	d := ComparePlans(w.piece, after)
	require.Len(t, d.Rows, 2)
	on := func(row int, stitches ...int) []PlacedCatch {
		return mapped(stitches, func(s int) PlacedCatch { return after.catchAt(row, Mark{s, 1}) })
	}
	assert.Equal(t, RowChange{Row: 2, Gone: on(2, 16, 26), Come: on(2, 14, 18, 24, 28)}, d.Rows[0])
	assert.Equal(t, RowChange{Row: 3, Gone: on(3, 6, 16, 26), Come: on(3, 4, 8, 14, 18, 24, 28)}, d.Rows[1])
	assert.Equal(t, 5, d.Before)
	assert.Equal(t, 10, d.After)
	assert.Equal(t, []RowsInWords{
		{[]int{2}, "drops fjord on 6 in repeats 2 and 3; adds fjord on 4 and 8 in repeats 2 and 3"},
		{[]int{3}, "drops fjord on 6; adds fjord on 4 and 8"},
	}, d.InWords(w.piece, after))
}

// What was made below counts: the row to work next is compared as it is shown. Planned
// anew to the same, nothing differs, even above a row caught otherwise.
func TestNoDifference(t *testing.T) {
	w := begin(t, "x........x\nx........x\nx........x", func(e *CastOn) { e.Flat = true })
	planned := w.piece.Schedule.Row(2)
	require.Len(t, planned, 1)
	w.row(func([]Mark) []Mark { return []Mark{{11 - planned[0].Stitch, 1}} }) // worked the other way, so in one column
	require.True(t, w.piece.Departs(w.piece.State.Next()))
	same := w.replannedAs(5, w.plan)
	assert.Empty(t, ComparePlans(w.piece, same).Rows)
	assert.Empty(t, ComparePlans(w.piece, same).InWords(w.piece, same))
}

func TestFoldedCatches(t *testing.T) {
	w := begin(t, "kx.......kx", func(e *CastOn) { e.Parts[0].Repeats = 5 })
	on := func(yarn rune, stitches ...int) []PlacedCatch {
		return mapped(stitches, func(s int) PlacedCatch { return w.piece.catchAt(1, Mark{s, w.piece.Layout.Fabric.Yarn(yarn)}) })
	}
	fold := func(catches ...[]PlacedCatch) string { return w.piece.folded(1, slices.Concat(catches...)) }
	assert.Equal(t, "fjord on 4", fold(on('x', 4, 15, 26, 37, 48)))
	assert.Equal(t, "fjord on 4 in repeats 1 to 3 and 5, kelp on 5 and 7 in repeat 2",
		fold(on('x', 4, 15), on('k', 16, 18), on('x', 26, 48)))
	assert.Equal(t, "fjord on 4 in repeats 1, 2 and 4", fold(on('x', 4, 15, 37)))
	w = begin(t, "x.........", func(e *CastOn) { e.Grip.Method = floats.Twist.String() })
	assert.Equal(t, "fjord before 4", fold(on('x', 4)))
}

// evenPlan catches every float over the limit, plainly.
func evenPlan(f *floats.Fabric, task floats.Task) *floats.Plan {
	p := &floats.Plan{Limit: task.Limit, Method: task.Method}
	for _, fl := range f.Floats(task.RestLimit) {
		for at := task.Limit; at < fl.Length-1; at += task.Limit + 1 {
			c := floats.Catch{Row: fl.Row, Stitch: fl.Stitch + at, Yarn: fl.Yarn}
			if n := f.Rows[c.Row].Stitches(); c.Stitch > n {
				c.Row, c.Stitch = c.Row+1, c.Stitch-n
			}
			p.Catches = append(p.Catches, c)
		}
	}
	slices.SortFunc(p.Catches, func(a, b floats.Catch) int {
		return cmp.Or(cmp.Compare(a.Row, b.Row), Mark{a.Stitch, a.Yarn}.Compare(Mark{b.Stitch, b.Yarn}))
	})
	return p
}
