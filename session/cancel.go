package session

import "slices"

// Which events hold is decided before any of them is applied. The steps that hold form
// a stack, a step being all that one command logged: an undoing takes the top off and
// lays it on a second stack, a redoing brings it back, and a new step is put on top and
// clears the second stack. So an event that holds always stands on exactly the events it
// was checked against when it was logged, and the state after an undoing is the state
// before the step that was undone.

// canceling decides which events of a log hold. Indexes are into the entries of
// the state.
type canceling struct {
	state *State
	holds []step // the steps that hold, oldest first
	taken []undo // undoings that can still be taken back, oldest first
	until uint64 // number of the last event that belongs to the newest step
}

// step is the events that one command logged, both ends in. It is known by its first.
type step struct{ first, last int }

// undo is an undoing and what it canceled.
type undo struct {
	at       int
	canceled step
}

// next takes the next event of the log, which is read.
func (c *canceling) next(i int) error {
	e := &c.state.entries[i]
	switch event := e.Event.(type) {
	case *Undone:
		return c.undo(i, event)
	case *Redone:
		return c.redo(event)
	case *Together:
		c.push(i)
		c.until = e.Seq + uint64(event.Events)
	default:
		if e.Seq <= c.until {
			c.holds[len(c.holds)-1].last = i
		} else {
			c.push(i)
		}
	}
	return nil
}

func (c *canceling) push(i int) {
	c.holds, c.taken = append(c.holds, step{i, i}), c.taken[:0]
}

func (c *canceling) undo(i int, e *Undone) error {
	if err := c.seen().Check(e); err != nil {
		return err
	}
	c.until = 0
	last := len(c.holds) - 1
	top := c.holds[last]
	c.mark(top, true)
	c.holds, c.taken = c.holds[:last], append(c.taken, undo{i, top})
	return nil
}

func (c *canceling) redo(e *Redone) error {
	if err := c.seen().Check(e); err != nil {
		return err
	}
	c.until = 0
	last := len(c.taken) - 1
	top := c.taken[last]
	c.mark(step{top.at, top.at}, true)
	c.mark(top.canceled, false)
	c.holds, c.taken = append(c.holds, top.canceled), c.taken[:last]
	return nil
}

// mark marks the events of a step as canceled, or not.
func (c *canceling) mark(s step, canceled bool) {
	for i := s.first; i <= s.last; i++ {
		c.state.entries[i].Canceled = canceled
	}
}

// seen is as much of the state as undoings and redoings look at.
func (c *canceling) seen() *State {
	s := &State{}
	if len(c.holds) > 0 {
		if first, ok := c.state.entries[c.holds[0].first].Event.(*CastOn); ok {
			first.apply(s, stamp{})
		}
	}
	s.CanUndo, s.CanRedo = c.canUndo(), c.canRedo()
	return s
}

// steps are the numbers of the steps that hold, as an undoing names them, oldest first and the
// cast-on left out.
func (c *canceling) steps() []uint64 {
	var numbers []uint64
	for _, s := range c.holds[min(1, len(c.holds)):] {
		numbers = append(numbers, c.state.entries[s.first].Seq)
	}
	return numbers
}

// canUndo is the number an undoing must name, 0 when only the cast-on is left.
func (c *canceling) canUndo() uint64 {
	if len(c.holds) < 2 {
		return 0
	}
	return c.state.entries[c.holds[len(c.holds)-1].first].Seq
}

// canRedo is the number a redoing must name, 0 when there is none.
func (c *canceling) canRedo() uint64 {
	if len(c.taken) == 0 {
		return 0
	}
	return c.state.entries[c.taken[len(c.taken)-1].at].Seq
}

// Undo gives the event that cancels the newest event that holds. When only the
// cast-on is left it is a *RefusedError, CastOnStays.
func (s *State) Undo() (*Undone, error) {
	e := &Undone{Seq: s.CanUndo}
	return e, s.Check(e)
}

// UndoLast gives the events that take back the last n things logged, the newest first. With
// fewer than n to take back it is a *RefusedError, TooFewSteps, with only the cast-on left
// CastOnStays.
func (s *State) UndoLast(n int) ([]Event, error) {
	switch {
	case len(s.steps) == 0:
		_, err := s.Undo()
		return nil, err
	case n > len(s.steps):
		return nil, refuse(TooFewSteps, "only %s can be undone; the cast-on stays", plural(len(s.steps), "thing"))
	}
	var events []Event
	for _, seq := range slices.Backward(s.steps[len(s.steps)-n:]) {
		events = append(events, &Undone{Seq: seq})
	}
	return events, nil
}

// Redo gives the event that takes the newest undoing back. When nothing was undone
// since the last change it is a *RefusedError, NothingToRedo.
func (s *State) Redo() (*Redone, error) {
	e := &Redone{Seq: s.CanRedo}
	return e, s.Check(e)
}
