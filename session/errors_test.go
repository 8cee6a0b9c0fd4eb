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
		{&EventError{12, KindNoted, refuseNotCastOn()}, "event 12 (note): the piece is not cast on yet; begin with a cast-on"},
		{&EventError{12, 99, refuseNotCastOn()}, "event 12 (unknown): the piece is not cast on yet; begin with a cast-on"},
		{&FieldError{"limit", "0", "a whole number from 1"}, "limit: 0 is not possible; give a whole number from 1"},
	}
	for _, c := range cases {
		assert.EqualError(t, c.err, c.want)
		assert.True(t, strings.ContainsAny(c.want, ";:"))
	}
}

// What a refusal says in each number of rows, in the round and flat.
func TestRefusalTexts(t *testing.T) {
	flat := band()
	flat.Flat = true
	rows := func(e *CastOn, n int) *State {
		events := []Event{e}
		for row := range n {
			events = append(events, &RowKnit{Row: row + 1})
		}
		return newLog(t, events...).state
	}
	for _, c := range []struct {
		state *State
		event Event
		want  string
	}{
		{rows(flat, 12), &RowKnit{Row: 12}, "row 12 is already logged; the row to work is 13"},
		{rows(band(), 24), &RowKnit{Row: 24}, "round 24 is already logged; all rounds are, so bind off or rip back"},
		{rows(band(), 12), &RowKnit{Row: 15}, "round 15 is not next; the round to work is 13"},
		{rows(flat, 24), &RowKnit{Row: 25}, "all 24 rows are worked; bind off, or rip back to work some again"},
		{rows(band(), 3), &Ripped{Rows: 5}, "cannot rip back 5 rounds: 3 are worked; give 3 at most"},
		{rows(flat, 1), &Ripped{Rows: 5}, "cannot rip back 5 rows: 1 is worked; give 1 at most"},
		{rows(flat, 0), &Ripped{Rows: 1}, "cannot rip back 1 row: none is worked yet; knit first"},
		{rows(band(), 3), &Ripped{}, "no round is begun, so nothing to rip out; give how many of the 3 finished rounds to rip back"},
		{rows(flat, 1), &Ripped{}, "no row is begun, so nothing to rip out; give 1 to rip back the finished row"},
		{rows(flat, 0), &Ripped{}, "no row is begun or finished, so nothing to rip out; knit first"},
		{rows(band(), 0), &RowCorrected{Row: 3}, "no round is finished yet, so there is no round 3 to correct"},
		{rows(flat, 2), &RowCorrected{Row: 3}, "row 3 is not finished yet; the last that is, is row 2"},
		{rows(flat, 0), &HoldChanged{}, "nothing changes: it is hold two-hands, carry parallel, weave, dominant pattern already"},
	} {
		assert.EqualError(t, c.state.Check(c.event), c.want)
	}
}

func TestEventErrorUnwraps(t *testing.T) {
	_, err := Fold([]Record{{Seq: 1, Kind: 99}})
	var newer *NewerError
	assert.True(t, errors.As(err, &newer))
	assert.EqualValues(t, 99, newer.Kind)
}
