package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A finished row shows what is on the needles, and what was planned in words.
func TestSheetOfAFinishedRow(t *testing.T) {
	w := threeRepeats(t)
	require.Equal(t, []Mark{{16, 1}, {26, 1}}, w.piece.Shown(1))
	w.row(func([]Mark) []Mark { return []Mark{{17, 1}, {27, 1}} })
	s := w.piece.Sheet(1)
	assert.Equal(t, []Catch{{Letter: "a", Stitch: 7, Yarn: w.piece.yarn(1)}}, s.Blocks[0].Often.Catches)
	assert.Equal(t, []string{"catch a 1 stitch later in repeats 2 and 3"}, s.Changes)
	assert.Equal(t, [][]Catch{6: {{Letter: "a", Stitch: 7, Yarn: w.piece.yarn(1)}}, 9: nil}, s.Strips.Caught)
	assert.Empty(t, w.piece.Sheet(2).Changes, "nothing is changed about a row to come")
}
