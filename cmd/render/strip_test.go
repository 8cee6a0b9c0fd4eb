package render

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/cmd/paint"
	"strandwise/floats"
	"strandwise/session"
)

// A strip that does not fit is cut into as few pieces as can be, none of them a scrap of
// one or two stitches, and of whole fives where that can be. Source: arithmetic.
func TestStripIsCutEvenly(t *testing.T) {
	for n := 6; n <= 400; n++ {
		for most := 5; most < n; most += 5 {
			cuts := evenCuts(n, most)
			require.Len(t, cuts, (n+most-1)/most+1, "%d columns, %d in a line", n, most)
			require.Equal(t, []int{0, n}, []int{cuts[0], cuts[len(cuts)-1]})
			for i, from := range cuts[:len(cuts)-1] {
				require.LessOrEqual(t, cuts[i+1]-from, most)
				require.GreaterOrEqual(t, cuts[i+1]-from, 3, "%d columns, %d in a line", n, most)
			}
		}
	}
	assert.Equal(t, []int{0, 20, 36}, evenCuts(36, 35), "not 35 and 1")
	assert.Equal(t, []int{0, 5, 11}, evenCuts(11, 10), "not 10 and 1")
	assert.Equal(t, []int{0, 6}, evenCuts(6, 6))
}

// Every line of a strip in pieces fits, and together they are the row.
func TestStripPiecesFit(t *testing.T) {
	cells := make([]chart.Cell, 36)
	for i := range cells {
		cells[i].Yarn = i % 3 % 2
	}
	for _, width := range []int{20, 40, 41, 44} {
		var row []string
		WriteStrip(bare(width, false), func(line string) {
			require.LessOrEqual(t, paint.Width(line), width)
			if text, ok := strings.CutPrefix(line, "7 "); ok {
				row = append(row, strings.TrimSuffix(text, " <"))
			}
		}, Strip{Yarns: []chart.Yarn{{Symbol: '.'}, {Symbol: 'x'}}, Row: 7, Cells: cells, Ruler: true})
		slices.Reverse(row)
		assert.Equal(t, strings.Repeat(".x.", 12), strings.Join(row, ""), width)
	}
}

// A shaped stitch has a sign under it, another where it is caught as well, and the line on
// shaping tells what the signs mean.
func TestShapedStitchesAreMarked(t *testing.T) {
	s := &session.Sheet{
		Row: 3, Repeats: 1, Yarns: []chart.Yarn{{Symbol: '.', Name: "oat"}, {Symbol: 'x', Name: "fjord"}}, Of: 9, Total: 6, After: 4,
		Order: make([]floats.Stitch, 6), Runs: []session.Run{{Stitches: 6}},
		Shaping: []session.Shaping{{Stitch: 2, Word: "k2tog"}, {Stitch: 5, Word: "ssk"}},
		Catches: []session.SheetCatch{{Stitch: 3, Yarn: 1}, {Stitch: 5, Yarn: 1}},
	}
	for i := range s.Order {
		s.Order[i].Column = i
	}
	s.Strips.Row = make([]chart.Cell, 6)
	s.Strips.Caught = []bool{false, false, true, false, true, false}
	for _, c := range []struct{ marks, shape, both, catch string }{{paint.Unicode, "◆", "◈", "▲"}, {paint.ASCII, "=", "&", "^"}} {
		look := bare(80, false)
		look.Marks = paint.ChooseMarks(c.marks, nil)
		var out strings.Builder
		require.NoError(t, Sheet(&out, s, look, SheetOptions{}))
		assert.Contains(t, out.String(), fmt.Sprintf("\n   %s %s%s\n", c.both, c.catch, c.shape))
		assert.Contains(t, out.String(), fmt.Sprintf("%s (%s with a catch) k2tog on 2; ssk on 5; 4 stitches after this row", c.shape, c.both))
	}
}
