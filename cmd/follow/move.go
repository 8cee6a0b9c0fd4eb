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

// within reports whether now is less than d after at; a clock set back counts as time gone by.
func within(d time.Duration, at, now time.Time) bool {
	gap := now.Sub(at)
	return gap >= 0 && gap < d
}

// forward goes on to the next row looked back at, or the next stretch, and at the last logs the row.
func (s State) forward() State {
	if s.o.By == ByRow || s.step == len(s.stretches())-1 {
		return s.rowDone()
	}
	return s.deliberate(func(s State) State {
		s.step++
		if s.piece.State.OnNeedle == nil || s.o.Page {
			s = s.log(s.piece.Pause(s.place())) // from now on the row stays as it was shown
		}
		return s
	})
}

func (s State) rowDone() State {
	return s.deliberate(func(s State) State { return s.log(s.piece.Knit(told(s.catches))) })
}

// deliberate goes on unless the press came too early to be meant.
func (s State) deliberate(on func(State) State) State {
	early := within(guard, s.armed, s.now)
	twice := within(guard, s.pressed, s.now)
	bounced := within(held, s.pressed, s.now)
	s.pressed = s.now
	s.clock = s.clock.seen(s.now)
	switch {
	case s.looking():
		if s = s.show(s.row + 1); !s.looking() {
			s.armed = s.now
		}
		return s
	case s.ended():
		return s.warn("%s", s.endWords())
	case early && !twice:
		return s.warn("%s %d came up just now: press again once it is knitted", s.Word(), s.row).ring()
	case early:
		return s.warn("pressed twice: %s %d came up just now, nothing was logged", s.Word(), s.row).ring()
	case bounced:
		return s.warn("a key held down: nothing was logged")
	}
	return on(s)
}

func (s State) endWords() string {
	st := s.piece.State
	if st.BoundOff {
		return fmt.Sprintf("the piece is bound off after %s %d; %s", s.Word(), st.Row, s.named("leave with q"))
	}
	return fmt.Sprintf("all %d %ss are worked; %s, then strandwise bind-off", st.Row, s.Word(), s.named("leave with q"))
}

// named is a key, or what it is called where words are read, or on a page.
func (s State) named(key string) string {
	switch {
	case s.o.Lines:
		return map[string]string{"leave with q": "leave with quit", "left": "back", "u": "undo"}[key]
	case s.o.Page:
		return map[string]string{"leave with q": "close the page", "left": "back", "u": "undo", "x": "extra"}[key]
	}
	return key
}

// back looks back at the stretch before, then at the rows below.
func (s State) back() State {
	switch {
	case s.o.By != ByRow && !s.looking() && s.step > 0:
		s.step--
	case s.row > 1:
		s = s.show(s.row - 1)
	default:
		s = s.say("this is the first %s", s.Word())
	}
	return s
}

// once takes a key that counts once, however long it is held down.
func once(run func(State) State) func(State) State {
	return func(s State) State {
		again := within(held, s.undone, s.now)
		s.undone = s.now
		if again {
			s.effects = Effects{}
			return s
		}
		return run(s)
	}
}

// undo takes back a change of a catch of this row, else a stretch of it, else the newest event.
func (s State) undo() State {
	switch {
	case len(s.past) > 0:
		return s.takeBack()
	case s.o.By != ByRow && !s.looking() && s.step > 0:
		s.step--
		if !s.keptHere() {
			return s.say("back by one %s; nothing was logged", s.o.By)
		}
	}
	e, err := s.piece.State.Undo()
	if err != nil {
		return s.warn("%v", err)
	}
	return s.log(e)
}

// keptHere reports whether that the row was worked up to the next stretch is what would be undone next.
func (s State) keptHere() bool {
	e, _ := s.piece.State.Entry(s.piece.State.CanUndo)
	switch e.Event.(type) {
	case *session.RowBegun:
		return s.step == 0
	case *session.Paused:
		return s.o.Page
	}
	return false
}

func (s State) redo() State {
	e, err := s.piece.State.Redo()
	if err != nil {
		return s.warn("%v", err)
	}
	return s.log(e)
}

// scrolledBy scrolls by lines; the screen stops it at the last.
func scrolledBy(lines int) func(State) State {
	return func(s State) State {
		s.top = max(0, s.top+lines)
		return s
	}
}

func (s State) reload() State {
	s.effects = Effects{Reload: true, Draw: true, Whole: true}
	return s
}

func (s State) motions() State {
	if s.sheet == nil || len(s.sheet.Motions) == 0 {
		return s.say("no catch in this %s, so no motion", s.Word())
	}
	return s.open(motions)
}

func (s State) keys() State { return s.open(keys) }

func (s State) shut() State {
	if s.under == choosing {
		return s.open(choosing)
	}
	return s.close()
}

func (s State) open(m mode) State {
	s.under = s.mode
	s.mode, s.top = m, 0
	return s
}

// close goes back to the row. The key may be a pedal's: where it bounces, nothing is logged.
func (s State) close() State {
	s.mode, s.top, s.pressed = knitting, 0, s.now
	return s
}
