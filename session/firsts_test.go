package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// kindsOf lists the kinds of a row's notes.
func kindsOf(p *Piece, row int) []string {
	var kinds []string
	for _, n := range p.notes(row) {
		kinds = append(kinds, n.Kind)
	}
	return kinds
}

// Row 2 has the first catch; row 1 has none, row 3 another one.
func TestSlackIsSpokenOfWithTheFirstCatch(t *testing.T) {
	w := begin(t, "x.x.x.x.x.\nx........x\nx.x.x.x.x.\n", func(*CastOn) {})
	require.Empty(t, w.piece.Shown(1))
	require.NotEmpty(t, w.piece.Shown(2))
	assert.NotContains(t, kindsOf(w.piece, 1), "slack")
	assert.Contains(t, kindsOf(w.piece, 2), "slack")
	assert.NotContains(t, kindsOf(w.piece, 3), "slack")
}

// The limit is five stitches; row 2 is the first in which a strand runs five uncaught.
func TestSlackIsSpokenOfWithTheFirstLongStrand(t *testing.T) {
	w := begin(t, "x.....x\nx.....x\nx..x..x\n", func(e *CastOn) { e.Flat = true })
	require.Equal(t, 5, w.piece.State.Setup.Limit)
	assert.NotContains(t, kindsOf(w.piece, 1), "slack")
	assert.Contains(t, kindsOf(w.piece, 2), "slack")
	assert.NotContains(t, kindsOf(w.piece, 3), "slack")
}

// A strand over the start whose catches in the row below were all missed cannot keep the
// limit any more, whatever is caught in this row; a row above one made as planned says
// nothing.
func TestWhatCanNoLongerBeKeptIsNamed(t *testing.T) {
	w := begin(t, "......x......\n......x......\n......x......\n", func(e *CastOn) { e.Limit = 3 })
	assert.NotContains(t, kindsOf(w.piece, 2), "lost")
	w.row(func([]Mark) []Mark { return nil })
	assert.Contains(t, kindsOf(w.piece, 2), "lost")
}

// How to mend stands with the first entry; how to lift with the first that the next row can
// still reach.
func TestMendingIsExplainedOnce(t *testing.T) {
	w := begin(t, "x.........x\nx.........x\nx.........x\n", func(e *CastOn) { e.Flat = true })
	for range 2 {
		w.row(func([]Mark) []Mark { return nil })
	}
	mends := w.piece.Mends(w.piece.Review(nil))
	require.Greater(t, len(mends), 1)
	tacks, lifts := 0, 0
	for _, m := range mends {
		if m.How != "" && m.Number == 1 {
			tacks++
		}
		if m.To.Row == 2 && m.How != "" {
			lifts++
		}
	}
	assert.Equal(t, 1, tacks)
	assert.Equal(t, 1, lifts)
}
