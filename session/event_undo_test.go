package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestUndoneManySteps(t *testing.T) {
	l := castOn(t, 3) // events 2, 3, 4
	l.add(&Ripped{Rows: 2}, &Noted{Text: "too tight"})
	l.undo()
	assert.Empty(t, l.state.Notes)
	assert.EqualValues(t, 5, l.state.CanUndo)
	assert.EqualValues(t, 7, l.state.CanRedo)
	l.undo()
	assert.Equal(t, 3, l.state.Row, "the rip is undone")
	l.undo()
	assert.Equal(t, 2, l.state.Row)
	assert.Equal(t, "round 3 knitted (undone)", l.words(4))
	assert.Equal(t, "undid event 4 (round 3 knitted)", l.words(9))
	assert.Equal(t, []bool{false, false, false, true, true, true, false, false, false}, canceled(l.state))
}

func canceled(s *State) []bool {
	var flags []bool
	for _, e := range s.Log {
		flags = append(flags, e.Canceled)
	}
	return flags
}

func TestUndoneStopsAtTheCastOn(t *testing.T) {
	l := castOn(t, 1)
	l.undo()
	_, err := l.state.Undo()
	assert.Equal(t, &RefusedError{What: "only the cast-on of harbour band is left, and a cast-on cannot be undone; remove the piece instead", Piece: "harbour band"}, err)
	require.EqualError(t, err, "only the cast-on of harbour band is left, and a cast-on cannot be undone; remove the piece instead")
	runRefused(t, []refused{{"the cast-on by number", l.state, &Undone{Seq: 1}, &RefusedError{What: "only the cast-on of harbour band is left, and a cast-on cannot be undone; remove the piece instead", Piece: "harbour band"}}})
}

func TestUndoneNamesTheNewestEvent(t *testing.T) {
	s := castOn(t, 3).state
	runRefused(t, []refused{
		{"older", s, &Undone{Seq: 3}, &RefusedError{What: "cannot undo event 3: event 4 comes first; undo that one"}},
		{"cast-on", s, &Undone{Seq: 1}, &RefusedError{What: "cannot undo event 1: event 4 comes first; undo that one"}},
		{"none", s, &Undone{Seq: 9}, &RefusedError{What: "cannot undo event 9: event 4 comes first; undo that one"}},
	})
}
