package follow

import (
	"strings"
	"time"

	"strandwise/session"
)

// quit leaves. By row it is asked how far the row to work is, unless that came up only now.
func (s State) quit() State {
	if s.o.By != ByRow || s.o.Lines || s.ended() || within(guard, s.armed, s.now) {
		return s.leave(false)
	}
	s.mode, s.line = asking, typed{}
	return s
}

func (s State) answerPlace(k Key) State {
	answer := s.line.string()
	switch {
	case k.Name == Escape:
		return s.close().say("here you are again")
	case k.Name == Enter, k == Char("q") && answer == "":
		if answer != "" {
			stitch, err := s.piece.ParsePlace(answer)
			if err != nil {
				return s.warn("%v", err).ring()
			}
			s.far = &stitch
		}
		s.mode = knitting
		return s.leave(false)
	}
	s.said, s.line = Saying{}, s.line.edit(k)
	return s
}

// Hangup ends the sitting when the window or the program is closed from outside.
func (s State) Hangup() State { return s.leave(true) }

// leave ends the sitting. The place in the begun row, a note that was being written, and catches made
// otherwise are kept first, these as a note, since only a finished row has catches.
func (s State) leave(interrupted bool) State {
	events := s.unlogged()
	s.effects = Effects{}
	if len(events) > 0 {
		if changed := s.changed(); len(changed) > 0 {
			s.kept = Kept{strings.Join(changed, "; "), s.asFlags()}
		}
		s = s.log(events...)
		s.mode, s.line = knitting, typed{}
	}
	s.effects.Quit = &Quit{interrupted}
	return s
}

// Kept is what leaving put into a note: catches made otherwise, in words and as the flags of
// knit that log them. It is empty where there was nothing to keep.
type Kept struct{ Words, Flags string }

// Kept tells what leaving put into the newest note of the piece.
func (s State) Kept() Kept { return s.kept }

func (s State) asFlags() string {
	_, o := s.Pending()
	var flags []string
	for _, f := range [...]struct{ flag, list string }{{"moved", o.Moved}, {"missed", o.Missed}, {"extra", o.Extra}} {
		if f.list != "" {
			flags = append(flags, "--"+f.flag+" "+f.list)
		}
	}
	return strings.Join(flags, " ")
}

// Pending is the row to work and what was said of its catches that is not logged yet.
func (s State) Pending() (row int, o session.Otherwise) {
	if s.ended() {
		return 0, o
	}
	return s.toWork(), s.piece.AsOtherwise(s.toWork(), told(s.work().catches))
}

// Resumed takes up what was said of the catches of a row before a crash, where that is the row to work:
// it came on the screen long ago.
func (s State) Resumed(row int, o session.Otherwise) State {
	if row != s.toWork() || s.ended() {
		return s
	}
	s.armed = time.Time{}
	if changes, err := s.piece.Otherwise(o); err == nil && changes.Any() {
		s = s.changedTo(asTold(s.piece.Shown(row), changes))
	}
	return s
}

func (s State) unlogged() []session.Event {
	events := s.corrected()
	if text := s.line.string(); s.mode == noting && text != "" {
		events = append(events, s.noteOf(text))
	}
	if changed := s.changed(); len(changed) > 0 {
		text := "begun and not logged yet, made otherwise: " + strings.Join(changed, "; ")
		text = strings.ToValidUTF8(text[:min(len(text), longestNote)], "")
		events = append(events, &session.Noted{Text: text, Row: s.toWork()})
	}
	if place := s.place(); place != s.piece.State.Begun && !s.o.Page { // a page logs each step forward at once
		events = append(events, s.piece.Pause(place))
	}
	return events
}
