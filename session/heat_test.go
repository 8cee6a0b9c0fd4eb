package session

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The map holds every catch that the review counts, of pieces knitted with catches left out at
// random. A chart ten columns wide is read from column 1 up, on the wrong side from column 10 down.
func TestHeatMapsHoldTheCatchesOfTheReview(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.SampledFrom([]string{"..........", "x.........", ".....x....", "xx......xx", "..x....k..", "kkkkkxkkkk"})
		rows := cell.Draw(t, "row")
		height := rapid.IntRange(1, 4).Draw(t, "more") + 1
		for range height - 1 {
			rows += "\n" + cell.Draw(t, "row")
		}
		flat := rapid.Bool().Draw(t, "flat")
		w := beginWith(t, rows, func(e *CastOn) {
			e.Flat = flat
			e.Parts[0].Repeats, e.Parts[0].Times = rapid.IntRange(1, 3).Draw(t, "repeats"), rapid.IntRange(1, 3).Draw(t, "times")
		}, quickPlan)
		for range rapid.IntRange(0, w.piece.Rows()).Draw(t, "knit") {
			w.row(func(shown []Mark) []Mark {
				return slices.DeleteFunc(shown, func(Mark) bool { return rapid.IntRange(0, 3).Draw(t, "missed") == 0 })
			})
		}
		want := map[[2]int]int{}
		for _, done := range w.piece.State.DoneRows {
			for _, m := range done.Used {
				column := (m.Stitch-1)%10 + 1
				if flat && done.Row%2 == 0 {
					column = 11 - column
				}
				want[[2]int{(done.Row-1)%height + 1, column}]++
			}
		}
		got, total := map[[2]int]int{}, 0
		for _, m := range w.piece.HeatMaps() {
			require.Len(t, m.Rows, height)
			for r, counts := range m.Rows {
				require.Len(t, counts, 10)
				for c, n := range counts {
					if total += n; n > 0 {
						got[[2]int{r + 1, c + 1}] = n
					}
				}
			}
		}
		assert.Equal(t, w.piece.Review(nil).Catches.Used, total)
		assert.Equal(t, want, got)
	})
}

func TestHottest(t *testing.T) {
	m := HeatMap{Rows: [][]int{{0, 2, 0}, {0, 0, 3}, {3, 0, 0}}}
	row, column, catches := m.Hottest()
	assert.Equal(t, []int{2, 3, 3}, []int{row, column, catches}, "the first of several")
}

// A plan changed in mid-piece leaves the lower rows of its chart out, which the map has all the
// same; what was made before is on the chart of the plan before.
func TestHeatMapsOfAPieceWhosePlanChanged(t *testing.T) {
	w := begin(t, "x.........\n..........\nx.........\nx.........", nil)
	w.row(nil)
	w.row(nil)
	parts := slices.Clone(w.piece.Layout.Parts)
	parts[0].Name, parts[0].Hash = "other", [32]byte{8}
	w.add(&Replanned{Limit: 4, Parts: parts})
	w.lay()
	w.row(nil)
	w.row(nil)
	maps := w.piece.HeatMaps()
	require.Len(t, maps, 2)
	assert.Equal(t, []string{"drawn", "other"}, []string{maps[0].Part, maps[1].Part})
	assert.Equal(t, make([]int, 10), maps[1].Rows[0], "row 1 of the other chart was never worked")
	total := 0
	for _, m := range maps {
		for _, counts := range m.Rows {
			for _, n := range counts {
				total += n
			}
		}
	}
	assert.Equal(t, w.piece.Review(nil).Catches.Used, total)
}
