package session

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNotedState(t *testing.T) {
	l := castOn(t, 2)
	l.add(&Noted{Text: "tight\n here", Row: 2}, &Noted{Text: "wash it cool"})
	assert.Equal(t, []Note{
		{Number: 1, Seq: 4, At: l.records[3].At, Text: "tight\n here", Row: 2},
		{Number: 2, Seq: 5, At: l.records[4].At, Text: "wash it cool"},
	}, l.state.Notes)
	assert.Equal(t, "note on round 2: tight here", l.words(4))
	assert.Equal(t, "note: wash it cool", l.words(5))
}

func TestNotedOnAPieceBoundOff(t *testing.T) {
	l := newLog(t, band(), &BoundOff{}, &Noted{Text: "blocked"})
	assert.Len(t, l.state.OpenNotes(), 1)
}

func TestNotedRefused(t *testing.T) {
	runBadFields(t, castOn(t, 2).state, []badField{
		{"note", &Noted{Text: " \n"}},
		{"note", &Noted{Text: "\x1b[31m"}},
		{"note", &Noted{Text: "\xff"}},
		{"note", &Noted{Text: strings.Repeat("n", 4001)}},
		{"round of the note", &Noted{Text: "here", Row: -1}},
		{"round of the note", &Noted{Text: "here", Row: 25}},
	})
}
