package follow

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"strandwise/session"
)

// typed is what is written before the cursor and after it.
type typed struct{ before, after string }

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

func (l typed) string() string { return strings.TrimSpace(l.before + l.after) }

// longestNote is how many bytes a note written here may have.
const longestNote = 2000

func (l typed) edit(k Key) typed {
	_, last := utf8.DecodeLastRuneInString(l.before)
	_, first := utf8.DecodeRuneInString(l.after)
	back, all := len(l.before)-last, l.before+l.after
	switch k.Name {
	case Rune, Paste:
		text := k.Text
		if k.Name == Paste {
			text = printable(text)
		}
		if len(all)+len(text) <= longestNote {
			l.before += text
		}
	case Backspace:
		l.before = l.before[:back]
	case Delete:
		l.after = l.after[first:]
	case Left:
		l = typed{all[:back], all[back:]}
	case Right:
		l = typed{all[:len(l.before)+first], l.after[first:]}
	case Home, Up, PageUp:
		l = typed{"", all}
	case End, Down, PageDown:
		l = typed{all, ""}
	}
	return l
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
