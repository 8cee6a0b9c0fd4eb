package session

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Fjord passes 9 stitches twice; the rightmost column is knitted first.
func TestReviewNamesWhatToMend(t *testing.T) {
	w := begin(t, "x.........x.........\nx.........x.........", nil)
	w.row(none)
	r := w.piece.Review(nil)
	mends := r.Mending
	require.Len(t, mends, 1, "the float over the start has no end yet; before its first use a yarn has none")
	assert.Equal(t, "round 1, stitches 11 to 19: fjord runs 9 stitches uncaught, tack it down behind stitch 15", mends[0].Text)
	assert.InDelta(t, 45, mends[0].Length, 1e-9, "9 stitches of 5 mm")
	assert.Equal(t, Tally{Planned: 1, Missed: 1}, r.Catches)
	assert.Equal(t, 9, r.ByYarn[1].Longest.Stitches)
	assert.Equal(t, 1, r.ByYarn[0].Longest.Stitches)

	w.row(func(m []Mark) []Mark { return []Mark{{2, 1}, {15, 1}} })
	r = w.piece.Review(nil)
	mends = r.Mending
	require.Len(t, mends, 2)
	assert.Equal(t, 7, mends[1].Stitches, "stitches 3 to 9 of the float over the start, after the catch on 2")
	assert.Equal(t, w.piece.Spot(2, 3), mends[1].From)
	assert.Equal(t, 2, r.ByYarn[1].Catches)
}

func TestTacks(t *testing.T) {
	for _, c := range []struct {
		stitches, limit int
		want            []int
	}{
		{12, 6, []int{46}},
		{5, 5, nil},
		{6, 5, []int{43}},
		{12, 5, []int{44, 48}},
		{3, 1, []int{42}},
		{2, 1, []int{41}},
		{4, 1, []int{41, 43}},
	} {
		g := Gap{From: Spot{Row: 23, Stitch: 41}, To: Spot{Row: 23, Stitch: 40 + c.stitches}, Stitches: c.stitches, Limit: c.limit}
		var got []int
		for _, at := range g.tacks() {
			got = append(got, g.From.Stitch+at-1)
		}
		assert.Equal(t, c.want, got, "%d over %d", c.stitches, c.limit)
	}
}

// Tacks leave no gap over the limit, and one fewer could not do.
func TestTacksSuffice(t *testing.T) {
	for limit := 1; limit <= 7; limit++ {
		for n := limit + 1; n <= 60; n++ {
			g := Gap{From: Spot{Row: 3, Stitch: 1}, To: Spot{Row: 3, Stitch: n}, Stitches: n, Limit: limit}
			before := 0
			tacks := g.tacks()
			for _, at := range append(tacks, n+1) {
				require.LessOrEqual(t, at-before-1, limit)
				before = at
			}
			require.Less(t, len(tacks)*(limit+1)-1, n, "%d over %d", n, limit)
		}
	}
}

func TestMendingListIsComplete(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWorked(t)
		r := w.piece.Review(nil)
		var got []string
		for _, g := range w.piece.OverLimit() {
			got = append(got, fmt.Sprint(g.Yarn.Index, g.From, g.To, g.Stitches))
		}
		slices.Sort(got)
		require.Equal(t, gapsByHand(w.piece), got)
		left := len(got)
		for i, m := range r.Mending {
			require.True(t, i == 0 || r.Mending[i-1].Over() >= m.Over(), "the most urgent first")
			require.NotEmpty(t, m.Tacks)
			require.False(t, before(m.Tacks[0], m.From) || before(m.To, m.Tacks[len(m.Tacks)-1]), m.Text)
			left -= len(m.Repeats)
		}
		require.Zero(t, left, "each gap is in one line")
	})
}
