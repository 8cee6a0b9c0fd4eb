package session

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Row 1 is caught where row 2 is to be, in the second of three repeats.
func TestReasonsOfMovedCatches(t *testing.T) {
	w := begin(t, "x.........\nx.........", func(e *CastOn) { e.Parts[0].Repeats = 3 })
	require.Empty(t, w.piece.rowShown(w.piece.State.Next()).reasons(), "nothing is worked yet")
	above := w.piece.Schedule.Row(2)
	w.row(func(marks []Mark) []Mark { return swap(marks, above, 11, 20) })
	stood := 0
	for _, m := range w.piece.rowShown(2).departures() {
		if on := w.piece.rowShown(2).rightBelow(m.From); on.Stitch > 0 {
			stood++
			assert.Equal(t, m.From.Stitch, on.Stitch, "in the round stitches of one column have one number")
		}
	}
	assert.Equal(t, 1, stood)
	words := strings.Join(w.piece.rowShown(w.piece.State.Next()).reasons(), "\n")
	assert.Regexp(t, `catch a is \d stitch(es)? (later|earlier) than planned: there it would sit right above catch a of round 1`, words)
	assert.Equal(t, w.piece.rowShown(w.piece.State.Next()).reasons(), w.piece.Sheet(2).Reasons)
}

// swap takes the marks of a row between two stitches from another list.
func swap(marks, from []Mark, first, last int) []Mark {
	inside := func(m Mark) bool { return first <= m.Stitch && m.Stitch <= last }
	kept := slices.DeleteFunc(marks, inside)
	for _, m := range from {
		if inside(m) {
			kept = append(kept, m)
		}
	}
	slices.SortFunc(kept, Mark.Compare)
	return kept
}

// Every catch that is not the plan's has a reason, and every planned one that is not made
// is in one; none is given where all is as planned.
func TestEveryMovedCatchHasAReason(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		row := rapid.StringMatching(`x\.{6,9}x?`)
		lower := row.Draw(t, "row")
		rows := lower + "\n" + lower + "\n" + lower
		flat := rapid.Bool().Draw(t, "flat")
		w := beginWith(t, rows, func(e *CastOn) { e.Flat, e.Parts[0].Repeats = flat, rapid.IntRange(1, 3).Draw(t, "repeats") }, quickPlan)
		first := rapid.IntRange(1, 12).Draw(t, "first")
		w.row(func(marks []Mark) []Mark { return swap(marks, w.piece.Schedule.Row(2), first, 30) })
		p := w.piece
		planned, shown := p.Schedule.Row(2), p.Shown(2)
		var to, from []Mark
		for _, r := range p.rowShown(p.State.Next()).departures() {
			if r.To.Stitch > 0 {
				to = append(to, r.To)
			}
			if r.From.Stitch > 0 {
				from = append(from, r.From)
			}
		}
		for _, m := range shown {
			require.Equal(t, !slices.Contains(planned, m), slices.Contains(to, m), "%+v", m)
		}
		for _, m := range planned {
			require.Equal(t, !slices.Contains(shown, m), slices.Contains(from, m), "%+v", m)
		}
		require.Equal(t, slices.Equal(planned, shown), len(p.rowShown(p.State.Next()).reasons()) == 0)
	})
}
