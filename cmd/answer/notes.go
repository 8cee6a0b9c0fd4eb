package answer

import (
	"fmt"
	"strings"
	"time"

	"strandwise/session"

	d "strandwise/cmd/document"
)

// Notes is the answer of note, schema 2.
type Notes struct {
	Notes []Note `json:"notes"`

	word                string // round or row
	NowSaved, NowClosed int    `json:"-"` // the number of a note that was; 0 where none
}

// Note is a note of the knitter's; row is 0 for the whole piece.
type Note struct {
	Number int       `json:"number"`
	At     time.Time `json:"at"`
	Row    int       `json:"row"`
	Text   string    `json:"text"`
	Closed bool      `json:"closed"`
}

// NewNotes are notes as they are answered.
func NewNotes(notes []session.Note, round bool) *Notes {
	a := &Notes{word: session.RowWord(round)}
	for _, n := range notes {
		a.Notes = append(a.Notes, Note{n.Number, n.At, n.Row, n.Text, n.Closed})
	}
	return a
}

// Document tells what was done, or lists the notes.
func (a *Notes) Document() d.Document {
	p := &prose{}
	switch {
	case a.NowClosed > 0:
		p.act("note %d closed", a.NowClosed)
	case a.NowSaved > 0:
		p.act("note %d saved", a.NowSaved)
		p.next("to close it: strandwise note --done %d", a.NowSaved)
	case len(a.Notes) == 0:
		p.act("no open notes")
		p.next(`strandwise note "what to remember"`)
	default:
		for _, n := range a.Notes {
			p.numbered(fmt.Sprintf("%d ", n.Number), n.about(a.word), strings.Join(strings.Fields(n.Text), " "))
		}
	}
	return p.document()
}

// about says what a note is about, and that it is closed, in front of its text.
func (n Note) about(word string) string {
	about := ""
	if n.Row > 0 {
		about = fmt.Sprintf("%s %d: ", word, n.Row)
	}
	if n.Closed {
		about = "closed; " + about
	}
	return about
}
