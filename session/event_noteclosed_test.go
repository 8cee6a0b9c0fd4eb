package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNoteClosedState(t *testing.T) {
	l := newLog(t, band(), &Noted{Text: "loose end"}, &Noted{Text: "count"}, &NoteClosed{Seq: 2})
	assert.Equal(t, l.state.Notes[1:], l.state.OpenNotes())
	assert.Equal(t, "note 1 closed", l.words(4))
	l.undo()
	assert.Len(t, l.state.OpenNotes(), 2, "undoing opens it again")
}

func TestNoteClosedRefused(t *testing.T) {
	s := newLog(t, band(), &Noted{Text: "loose end"}, &NoteClosed{Seq: 2}).state
	runRefused(t, []refused{
		{"closed", s, &NoteClosed{Seq: 2}, &RefusedError{What: "note 1 is already closed; only open notes can be"}},
		{"not a note", s, &NoteClosed{Seq: 1}, &RefusedError{What: "there is no note 1; see the list of open notes"}},
		{"no event", s, &NoteClosed{Seq: 9}, &RefusedError{What: "there is no note 9; see the list of open notes"}},
	})
}
