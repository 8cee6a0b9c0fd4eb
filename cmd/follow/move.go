package follow

import (
	"fmt"
	"time"

	"strandwise/session"
)

// A press forward logs nothing within guard of a new row, and none that comes within
// held of the one before: so fast only a key held down, or a bouncing pedal, can be.
const (
	guard = 2 * time.Second
	held  = 300 * time.Millisecond
)

// within reports whether now is less than d after at. A clock that was set back
// counts as time gone by.
func within(d time.Duration, at, now time.Time) bool {
	gap := now.Sub(at)
	return gap >= 0 && gap < d
}

// forward goes on: to the row to work while looking back, else to the next stretch, and
// at the last one logs the row.
func (s State) forward(now time.Time) (State, []Effect) {
	early := within(guard, s.armed, now)
	twice := within(guard, s.pressed, now)
	bounced := within(held, s.pressed, now)
	s.pressed = now
	s.clock = s.clock.seen(now)
	switch {
	case s.looking():
		if s = s.show(s.row + 1); !s.looking() {
			s.armed = now
		}
		return s, []Effect{Draw{}}
	case s.ended():
		return s.warn(s.endWords()), []Effect{Draw{}}
	case early && !twice:
		return s.warn(fmt.Sprintf("%s %d came up just now: press again once it is knitted", s.word(), s.row)), []Effect{Draw{}, Ring{}}
	case early:
		return s.warn(fmt.Sprintf("pressed twice: %s %d came up just now, nothing was logged", s.word(), s.row)), []Effect{Draw{}, Ring{}}
	case bounced:
		return s.warn("a key held down: nothing was logged"), []Effect{Draw{}}
	case s.o.By != ByRow && s.step < s.steps()-1:
		s.step++
		if s.piece.State.OnNeedle == nil {
			return s.log(s.piece.Pause(s.place())) // from now on the row stays as it was shown
		}
		return s, []Effect{Draw{}}
	}
	return s.log(s.piece.Knit(told(s.catches)))
}

// endWords tells why no row can be logged.
func (s State) endWords() string {
	st := s.piece.State
	if st.BoundOff {
		return fmt.Sprintf("the piece is bound off after %s %d; %s leaves", s.word(), st.Row, s.named("q"))
	}
	return fmt.Sprintf("all %d %ss are worked; %s leaves, then strandwise bind-off", st.Row, s.word(), s.named("q"))
}

// named is a key, or its word where words are read.
func (s State) named(key string) string {
	if !s.o.Lines {
		return key
	}
	return map[string]string{"q": "quit", "left": "back", "u": "undo"}[key]
}

// back looks back: at the stretch before, then at the rows below. It changes nothing
// that is logged.
func (s State) back(time.Time) (State, []Effect) {
	switch {
	case s.o.By != ByRow && !s.looking() && s.step > 0:
		s.step--
	case s.row > 1:
		s = s.show(s.row - 1)
	default:
		s = s.say(fmt.Sprintf("this is the first %s", s.word()))
	}
	return s, []Effect{Draw{}}
}

// undo takes back the latest of these that there is: a change of a catch of this row,
// a stretch of it, the newest event of the log. A key held down undoes once.
func (s State) undo(now time.Time) (State, []Effect) {
	if within(held, s.undone, now) {
		s.undone = now
		return s, nil
	}
	s.undone = now
	switch {
	case len(s.past) > 0:
		return s.takeBack(now)
	case s.o.By != ByRow && !s.looking() && s.step > 0:
		s.step--
		if s.step > 0 || !s.begunHere() {
			return s.say(fmt.Sprintf("back by one %s; nothing was logged", s.o.By)), []Effect{Draw{}}
		}
	}
	e, err := s.piece.State.Undo()
	if err != nil {
		return s.warn(err.Error()), []Effect{Draw{}}
	}
	return s.log(e)
}

// begunHere reports whether the beginning of the row to work is what would be undone next.
func (s State) begunHere() bool {
	e, _ := s.piece.State.Entry(s.piece.State.CanUndo)
	_, is := e.Event.(*session.RowBegun)
	return is
}

func (s State) redo(now time.Time) (State, []Effect) {
	if within(held, s.undone, now) {
		s.undone = now
		return s, nil
	}
	s.undone = now
	e, err := s.piece.State.Redo()
	if err != nil {
		return s.warn(err.Error()), []Effect{Draw{}}
	}
	return s.log(e)
}

func (s State) scrollUp(time.Time) (State, []Effect) {
	s.top = max(0, s.top-1)
	return s, []Effect{Draw{}}
}

// scrollDown goes a line down; the screen stops it at the last.
func (s State) scrollDown(time.Time) (State, []Effect) {
	s.top++
	return s, []Effect{Draw{}}
}

func (s State) reload(time.Time) (State, []Effect) {
	return s, []Effect{Reload{}, Draw{Whole: true}}
}

func (s State) motions(time.Time) (State, []Effect) {
	if s.sheet == nil || len(s.sheet.Motions) == 0 {
		return s.say(fmt.Sprintf("no catch in this %s, so no motion", s.word())), []Effect{Draw{}}
	}
	return s.open(motions)
}

func (s State) keys(time.Time) (State, []Effect) { return s.open(keys) }

// shut ends reading where it was begun: in the row, or while a catch is chosen.
func (s State) shut(now time.Time) (State, []Effect) {
	if s.under == choosing {
		return s.open(choosing)
	}
	return s.close(now)
}

func (s State) open(m mode) (State, []Effect) {
	s.under = s.mode
	s.mode, s.top = m, 0
	return s, []Effect{Draw{}}
}

// close goes back to the row. The key may be a pedal's: where it bounces, nothing is logged.
func (s State) close(now time.Time) (State, []Effect) {
	s.mode, s.top, s.pressed = knitting, 0, now
	return s, []Effect{Draw{}}
}
