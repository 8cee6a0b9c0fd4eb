package session

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCompare(t *testing.T) {
	cases := []struct {
		name        string
		shown, used []Mark
		want        Changes
	}{
		{"as shown", []Mark{{6, 1}}, []Mark{{6, 1}}, Changes{}},
		{"later", []Mark{{6, 1}}, []Mark{{8, 1}}, Changes{Moved: []Move{{Mark{6, 1}, Mark{8, 1}}}}},
		{"earlier", []Mark{{6, 1}}, []Mark{{3, 1}}, Changes{Moved: []Move{{Mark{6, 1}, Mark{3, 1}}}}},
		{"too far", []Mark{{6, 1}}, []Mark{{12, 1}}, Changes{Missed: []Mark{{6, 1}}, Extra: []Mark{{12, 1}}}},
		{"another yarn", []Mark{{6, 1}}, []Mark{{6, 0}}, Changes{Missed: []Mark{{6, 1}}, Extra: []Mark{{6, 0}}}},
		{
			"past a kept one",
			[]Mark{{6, 1}, {8, 1}},
			[]Mark{{8, 1}, {9, 1}},
			Changes{Missed: []Mark{{6, 1}}, Extra: []Mark{{9, 1}}},
		},
		{
			"past a kept one of another yarn",
			[]Mark{{6, 1}, {8, 0}},
			[]Mark{{8, 0}, {9, 1}},
			Changes{Moved: []Move{{Mark{6, 1}, Mark{9, 1}}}},
		},
		{
			"two and one",
			[]Mark{{6, 1}, {10, 1}},
			[]Mark{{9, 1}},
			Changes{Moved: []Move{{Mark{6, 1}, Mark{9, 1}}}, Missed: []Mark{{10, 1}}},
		},
		{
			"several yarns in order",
			[]Mark{{2, 1}, {4, 0}},
			[]Mark{{3, 1}, {5, 0}},
			Changes{Moved: []Move{{Mark{2, 1}, Mark{3, 1}}, {Mark{4, 0}, Mark{5, 0}}}},
		},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, compareLists(c.shown, c.used, 5), c.name)
	}
}

// Whatever the lists, the changes lead from the one to the other.
func TestCompareLeadsFromShownToUsed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shown, used := drawMarks(t, "shown"), drawMarks(t, "used")
		c := compareLists(shown, used, 60)
		gone, come := slices.Clone(c.Missed), slices.Clone(c.Extra)
		for _, m := range c.Moved {
			require.Equal(t, m.From.Yarn, m.To.Yarn)
			require.LessOrEqual(t, max(m.From.Stitch-m.To.Stitch, m.To.Stitch-m.From.Stitch), 60)
			gone, come = append(gone, m.From), append(come, m.To)
		}
		got := slices.DeleteFunc(slices.Clone(shown), func(m Mark) bool { return slices.Contains(gone, m) })
		require.Len(t, got, len(shown)-len(gone))
		got = append(got, come...)
		slices.SortFunc(got, Mark.Compare)
		require.Equal(t, append([]Mark{}, used...), append([]Mark{}, got...))
	})
}

// Three strands of fjord pass behind 7 stitches each and are caught on 5 and 13. One
// missed on the first and one made beside the plan on the second are on two strands:
// the catch was not moved, the first strand is held nowhere.
func TestACatchIsNotMovedToAnotherStrand(t *testing.T) {
	w := begin(t, "x.......x.......x", func(e *CastOn) { e.Flat = true })
	require.Equal(t, []Mark{{5, 1}, {13, 1}}, w.piece.Shown(1))
	made, err := madeOf(w.piece, Otherwise{Missed: "a", Extra: "x:10"})
	require.NoError(t, err)
	c := w.piece.Compare(1, w.piece.Shown(1), made)
	assert.Equal(t, Changes{Missed: []Mark{{5, 1}}, Extra: []Mark{{10, 1}}}, c)
	w.row(func([]Mark) []Mark { return made })
	assert.Equal(t, []int{1}, w.piece.Missed())
	assert.Equal(t, 1, w.piece.Review(nil).Catches.Missed)
}
