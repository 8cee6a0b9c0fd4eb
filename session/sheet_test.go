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
	assert.Equal(t, []SheetCatch{{Stitch: 7, InRun: 7, Yarn: 1}}, s.Catches)
	assert.Equal(t, []string{"fjord made on 7, planned on 6, in repeats 2 and 3"}, s.Changes)
	assert.Equal(t, []bool{6: true, 9: false}, s.Strips.Caught)
	assert.Empty(t, w.piece.Sheet(2).Changes, "nothing is changed about a row to come")
}
