package session

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Every message says what happened and, after a semicolon or colon, what to do.
func TestErrorTexts(t *testing.T) {
	cases := []struct {
		err  error
		want string
	}{
		{&NewerError{99}, "events of kind 99 were written by a newer version of the program; use that version to go on"},
		{
			&MalformedError{KindRowKnit, 3, "it ends too soon"},
			"the event's content (row knitted) is damaged at byte 3: it ends too soon; check the store, or restore a backup",
		},
		{&EventError{12, KindNoted, &NotCastOnError{}}, "event 12 (note): the piece is not cast on yet; begin with a cast-on"},
		{&EventError{12, 99, &NotCastOnError{}}, "event 12 (unknown): the piece is not cast on yet; begin with a cast-on"},
		{&OrderError{4, 7}, "event 4 comes after event 7 in the log; check the store"},
		{&FieldError{"limit", "0", "a whole number from 1"}, "limit: 0 is not possible; give a whole number from 1"},
		{&SameHoldError{Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: "pattern"}}, "nothing changes: it is hold two-hands, carry parallel, weave, dominant pattern already"},
		{&AlreadyCastOnError{"pier"}, "pier is already cast on; cast on another piece instead"},
		{&AlreadyRecordedError{12, 13, false}, "row 12 is already logged; the row to work is 13"},
		{&AlreadyRecordedError{24, 0, true}, "round 24 is already logged; all rounds are, so bind off or rip back"},
		{&NotYetError{15, 13, true}, "round 15 is not next; the round to work is 13"},
		{&FinishedError{24, false}, "all 24 rows are worked; bind off, or rip back to work some again"},
		{&BoundOffError{24, true}, "the piece is bound off after round 24; undo the bind-off to go on"},
		{&TooManyRowsError{5, 3, true}, "cannot rip back 5 rounds: 3 are worked; give 3 at most"},
		{&TooManyRowsError{5, 1, false}, "cannot rip back 5 rows: 1 is worked; give 1 at most"},
		{&TooManyRowsError{1, 0, false}, "cannot rip back 1 row: none is worked yet; knit first"},
		{&NothingBegunError{3, true}, "no round is begun, so nothing to rip out; give how many of the 3 finished rounds to rip back"},
		{&NothingBegunError{1, false}, "no row is begun, so nothing to rip out; give 1 to rip back the finished row"},
		{&NothingBegunError{0, false}, "no row is begun or finished, so nothing to rip out; knit first"},
		{
			&TooShortError{10, 20, false},
			"the new parts have 10 rows, but 20 are worked; give parts for the whole piece, the worked rows included",
		},
		{&NoSuchNoteError{Number: 4}, "there is no note 4; see the list of open notes"},
		{&NoSuchNoteError{4, true}, "note 4 is already closed; only open notes can be"},
		{&CastOnStaysError{"pier"}, "only the cast-on of pier is left, and a cast-on cannot be undone; remove the piece instead"},
		{&NotNewestError{false, 3, 4}, "cannot undo event 3: event 4 comes first; undo that one"},
		{&NotNewestError{true, 3, 4}, "cannot redo event 3: event 4 comes first; redo that one"},
		{&NothingToRedoError{}, "nothing to redo: no undo since the last change; log the step again instead"},
	}
	for _, c := range cases {
		assert.EqualError(t, c.err, c.want)
		assert.True(t, strings.ContainsAny(c.want, ";:"))
	}
}

func TestEventErrorUnwraps(t *testing.T) {
	_, err := Fold([]Record{{Seq: 1, Kind: 99}})
	var newer *NewerError
	assert.True(t, errors.As(err, &newer))
	assert.EqualValues(t, 99, newer.Kind)
}
