package session

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Noted keeps a note of the knitter's.
type Noted struct {
	Text string // any text with something in it, lines allowed
	Row  int    // the row it is about, from 1; 0 for the whole piece
}

func (e *Noted) validate(s *State) error {
	switch {
	case strings.TrimSpace(e.Text) == "":
		return &FieldError{"note", "an empty text", "something to note"}
	case len(e.Text) > maxNote:
		return &FieldError{"note", fmt.Sprintf("%d bytes of text", len(e.Text)), fmt.Sprintf("at most %d", maxNote)}
	case !utf8.ValidString(e.Text) || strings.ContainsFunc(e.Text, controlRune):
		return &FieldError{"note", "a control character", "plain text"}
	}
	return checkBetween(s.rowWord()+" of the note", e.Row, 0, s.Total())
}

func controlRune(r rune) bool { return unseen(r) && r != '\n' && r != '\t' }

func (e *Noted) apply(s *State, log []Entry) {
	entry := log[len(log)-1]
	s.Notes = append(s.Notes, Note{Number: len(s.Notes) + 1, Seq: entry.Seq, At: entry.At, Text: e.Text, Row: e.Row})
}

func (e *Noted) words(t historyWords) string {
	text := strings.Join(strings.Fields(e.Text), " ")
	if e.Row == 0 {
		return "note: " + text
	}
	return fmt.Sprintf("note on %s %d: %s", t.row(), e.Row, text)
}
