package session

// Which events hold is decided before any of them is applied. The events that hold
// form a stack: an undoing takes the top off and lays it on a second stack, a
// redoing brings it back, and a new event is put on top and clears the second
// stack. So an event that holds always stands on exactly the events it was
// checked against when it was logged, and the state after an undoing is the state
// before the event that was undone.

// cancelling decides which events of a log hold. Indexes are into the records of
// the state.
type cancelling struct {
	state *State
	holds []int  // the events that hold, oldest first
	taken []undo // undoings that can still be taken back, oldest first
}

// undo is an undoing and what it cancelled.
type undo struct{ at, cancelled int }

// next reads and takes the next event of the log.
func (c *cancelling) next(i int) error {
	r := &c.state.records[i]
	if r.Kind == uint16(KindRowKnit) {
		c.push(i)
		return checkRow(r.Payload)
	}
	e, err := Decode(r.Kind, r.Payload)
	if err != nil {
		return err
	}
	switch e := e.(type) {
	case *Undone:
		return c.undo(i, e)
	case *Redone:
		return c.redo(e)
	}
	c.push(i)
	return nil
}

func (c *cancelling) push(i int) {
	c.holds, c.taken = append(c.holds, i), c.taken[:0]
}

func (c *cancelling) undo(i int, e *Undone) error {
	if err := e.validate(c.seen()); err != nil {
		return err
	}
	last := len(c.holds) - 1
	top := c.holds[last]
	c.state.cancelled[top] = true
	c.holds, c.taken = c.holds[:last], append(c.taken, undo{i, top})
	return nil
}

func (c *cancelling) redo(e *Redone) error {
	if err := e.validate(c.seen()); err != nil {
		return err
	}
	last := len(c.taken) - 1
	top := c.taken[last]
	c.state.cancelled[top.at], c.state.cancelled[top.cancelled] = true, false
	c.holds, c.taken = append(c.holds, top.cancelled), c.taken[:last]
	return nil
}

// seen is as much of the state as undoings and redoings look at.
func (c *cancelling) seen() *State {
	s := &State{}
	if len(c.holds) > 0 {
		if first, ok := c.state.decoded(c.holds[0]).(*CastOn); ok {
			first.apply(s, stamp{})
		}
	}
	s.CanUndo, s.CanRedo = c.canUndo(), c.canRedo()
	return s
}

// canUndo is the number an undoing must name, 0 when only the cast-on is left.
func (c *cancelling) canUndo() uint64 {
	if len(c.holds) < 2 {
		return 0
	}
	return c.state.records[c.holds[len(c.holds)-1]].Seq
}

// canRedo is the number a redoing must name, 0 when there is none.
func (c *cancelling) canRedo() uint64 {
	if len(c.taken) == 0 {
		return 0
	}
	return c.state.records[c.taken[len(c.taken)-1].at].Seq
}
