package follow

import (
	"strings"
	"time"
	"unicode"

	"strandwise/session"
)

// line is the text of a note while it is written.
type line struct {
	text   []rune
	cursor int // into text
}

// note begins a note on the row on the screen.
func (s State) note(time.Time) (State, []Effect) {
	s.mode, s.line = noting, line{}
	return s, []Effect{Draw{}}
}

// write takes a key while a note is written.
func (s State) write(k Key, now time.Time) (State, []Effect) {
	switch k.Name {
	case Enter:
		return s.noted(now)
	case Escape:
		s, _ = s.close(now)
		return s.say("the note was dropped"), []Effect{Draw{}}
	}
	s.line = s.line.edit(k)
	return s, []Effect{Draw{}}
}

// noted keeps the note. The row stays on the screen as it is.
func (s State) noted(now time.Time) (State, []Effect) {
	text := s.line.string()
	s, _ = s.close(now)
	s.said = Saying{}
	if text == "" {
		return s, []Effect{Draw{}}
	}
	return s.log(s.noteOf(text))
}

// noteOf is a note on the row on the screen, or on the whole piece past the last.
func (s State) noteOf(text string) *session.Noted {
	n := &session.Noted{Text: text}
	if s.row <= s.piece.State.Total() {
		n.Row = s.row
	}
	return n
}

func (l line) string() string { return strings.TrimSpace(string(l.text)) }

// edit changes the text by one key.
func (l line) edit(k Key) line {
	switch k.Name {
	case Rune:
		return l.insert(k.Text)
	case Paste:
		return l.insert(printable(k.Text))
	case Backspace:
		if l.cursor > 0 {
			return l.cut(l.cursor - 1)
		}
	case Delete:
		if l.cursor < len(l.text) {
			return l.cut(l.cursor)
		}
	case Left:
		l.cursor = max(0, l.cursor-1)
	case Right:
		l.cursor = min(len(l.text), l.cursor+1)
	case Home, Up, PageUp:
		l.cursor = 0
	case End, Down, PageDown:
		l.cursor = len(l.text)
	}
	return l
}

// longestNote is how many bytes a note written here may have.
const longestNote = 2000

func (l line) insert(text string) line {
	if len(string(l.text))+len(text) > longestNote {
		return l
	}
	added := []rune(text)
	next := make([]rune, 0, len(l.text)+len(added))
	next = append(append(append(next, l.text[:l.cursor]...), added...), l.text[l.cursor:]...)
	return line{next, l.cursor + len(added)}
}

func (l line) cut(at int) line {
	next := make([]rune, 0, len(l.text))
	next = append(append(next, l.text[:at]...), l.text[at+1:]...)
	return line{next, at}
}

// printable is pasted text on one line, without what could steer a terminal.
func printable(text string) string {
	text = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}
