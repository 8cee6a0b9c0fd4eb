package follow

import (
	"strings"
	"time"
	"unicode/utf8"

	"strandwise/session"
)

func (s State) quit(time.Time) (State, []Effect) { return s.leave(false) }

// Hangup ends the sitting when the window or the program is closed from outside.
func (s State) Hangup() (State, []Effect) { return s.leave(true) }

// leave ends the sitting. What the log does not know of the begun row is kept first:
// the place in it, as far as it is known; catches made otherwise, as a note, since
// only a finished row has catches; and a note that was being written.
func (s State) leave(interrupted bool) (State, []Effect) {
	quit := Quit{interrupted}
	events := s.unlogged()
	if len(events) == 0 {
		return s, []Effect{quit}
	}
	s, effects := s.log(events...)
	s.mode, s.line = knitting, line{}
	return s, append(effects, quit)
}

// unlogged is what leaving would lose.
func (s State) unlogged() []session.Event {
	var events []session.Event
	if text := s.line.string(); s.mode == noting && text != "" {
		events = append(events, s.noteOf(text))
	}
	if changed := s.changed(); len(changed) > 0 {
		events = append(events, &session.Noted{
			Text: shortened("begun and not logged yet, made otherwise: " + strings.Join(changed, "; ")), Row: s.toWork(),
		})
	}
	if place := s.place(); place != s.piece.State.Begun {
		events = append(events, &session.Paused{Stitch: place})
	}
	return events
}

// shortened cuts a note that is too long to be kept.
func shortened(text string) string {
	for len(text) > longestNote {
		_, size := utf8.DecodeLastRuneInString(text)
		text = text[:len(text)-size]
	}
	return text
}
