package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Row 1 of three repeats is caught by a on stitch 6 of the repeats 2 and 3.
func TestCorrectedHoldsForTheRow(t *testing.T) {
	w := threeRepeats(t)
	w.row(nil)
	correct := func(o Otherwise) {
		t.Helper()
		e, err := w.piece.Corrected(1, o)
		require.NoError(t, err)
		w.add(e)
		w.piece.State = w.state
	}
	planned := w.piece.Shown(2)
	correct(Otherwise{Missed: "a@3"})
	assert.Equal(t, []Mark{{16, 1}}, w.piece.State.DoneRow(1).Used)
	assert.Equal(t, []string{"catch a missed in repeat 3"}, w.piece.Fates(1, w.piece.Changes(1)))
	assert.Equal(t, 1, w.piece.Review(nil).Catches.Missed, "the review follows")
	assert.Len(t, w.piece.Review(nil).Mending, 1)

	correct(Otherwise{Moved: "a+1@2"})
	assert.Equal(t, []string{"catch a 1 stitch later in repeat 2", "catch a missed in repeat 3"}, w.piece.Fates(1, w.piece.Changes(1)), "what is not named stays as it was logged")
	correct(Otherwise{Moved: "a+0", Extra: "9@2"})
	assert.Equal(t, []Mark{{16, 1}, {19, 1}, {26, 1}}, w.piece.State.DoneRow(1).Used)
	assert.Contains(t, w.told(5), "round 1 corrected: extra catch of fjord on stitch 9 in repeat 2")
	correct(Otherwise{Missed: "9"})
	assert.Equal(t, w.piece.Shown(1), w.piece.State.DoneRow(1).Used, "an extra one has no letter and goes by its stitch")
	assert.Equal(t, "round 1 corrected: all catches made as shown", w.told(6))
	assert.Equal(t, planned, w.piece.Shown(2))

	_, err := w.piece.Corrected(1, Otherwise{})
	assert.EqualError(t, err, "the log already says so of round 1")
	_, err = w.piece.Corrected(2, Otherwise{Missed: "a"})
	assert.EqualError(t, err, "round 2 is not finished yet; the last that is, is round 1")

	w.undo()
	assert.Equal(t, []Mark{{16, 1}, {19, 1}, {26, 1}}, w.state.DoneRow(1).Used, "undone like any other")
	w.add(&Ripped{Rows: 1})
	w.piece.State = w.state
	w.row(nil)
	assert.Empty(t, w.piece.Fates(1, w.piece.Changes(1)), "it goes with the row it is about")
}

// The next row is chosen anew where a correction below matters, but not once it is begun.
func TestCorrectedBelowTheRowToWork(t *testing.T) {
	w := threeRepeats(t)
	w.row(nil)
	above := w.piece.Shown(2)
	require.Equal(t, Catch{Letter: "a", Stitch: 4, Yarn: w.piece.yarn(1)}, w.piece.Letters(2)[0])
	e, err := w.piece.Corrected(1, Otherwise{Moved: "a-2@2"})
	require.NoError(t, err)
	begun := w.piece.Pause(4)
	w.add(e)
	w.piece.State = w.state
	assert.NotEqual(t, above, w.piece.Shown(2), "it would sit right above")
	w.undo()
	w.add(begun, e)
	w.piece.State = w.state
	assert.Equal(t, above, w.piece.Shown(2))
}
