package follow

import (
	"slices"
	"strings"
	"unicode"

	"strandwise/session"
)

type typed struct {
	text   []rune
	cursor int // into text
}

func (s State) note() State {
	s.mode, s.line = noting, typed{}
	return s
}

// write takes a key while a note is written. Once it is kept the row stays on the screen as it is.
func (s State) write(k Key) State {
	switch k.Name {
	case Enter:
		text := s.line.string()
		s = s.close()
		s.said = Saying{}
		if text != "" {
			s = s.log(s.noteOf(text))
		}
	case Escape:
		s = s.close().say("the note was dropped")
	default:
		s.line = s.line.edit(k)
	}
	return s
}

// noteOf is a note on the row on the screen, or on the whole piece past the last.
func (s State) noteOf(text string) *session.Noted {
	n := &session.Noted{Text: text}
	if s.row <= s.piece.State.Total() {
		n.Row = s.row
	}
	return n
}

func (l typed) string() string { return strings.TrimSpace(string(l.text)) }

func (l typed) edit(k Key) typed {
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

func (l typed) insert(text string) typed {
	if len(string(l.text))+len(text) > longestNote {
		return l
	}
	added := []rune(text)
	return typed{slices.Insert(slices.Clone(l.text), l.cursor, added...), l.cursor + len(added)}
}

func (l typed) cut(at int) typed {
	return typed{slices.Delete(slices.Clone(l.text), at, at+1), at}
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
