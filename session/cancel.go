package session

// Which events hold is decided before any of them is applied. The events that hold
// form a stack: an undoing takes the top off and lays it on a second stack, a
// redoing brings it back, and a new event is put on top and clears the second
// stack. So an event that holds always stands on exactly the events it was
// checked against when it was logged, and the state after an undoing is the state
// before the event that was undone.

// cancelling decides which events of a log hold.
type cancelling struct {
	holds []int  // indexes into the log of the events that hold, oldest first
	taken []undo // undoings that can still be taken back, oldest first
}

// undo is an undoing: where it stands in the log and where what it cancelled does.
type undo struct{ at, cancelled int }

// next takes the next event of the log, which stands at index i. Undoings and
// redoings must be the ones canUndo and canRedo allow.
func (c *cancelling) next(log []Entry, i int) {
	switch log[i].Event.(type) {
	case *Undone:
		top := c.holds[len(c.holds)-1]
		log[top].Cancelled = true
		c.holds = c.holds[:len(c.holds)-1]
		c.taken = append(c.taken, undo{i, top})
	case *Redone:
		last := c.taken[len(c.taken)-1]
		log[last.at].Cancelled, log[last.cancelled].Cancelled = true, false
		c.holds = append(c.holds, last.cancelled)
		c.taken = c.taken[:len(c.taken)-1]
	default:
		c.holds, c.taken = append(c.holds, i), c.taken[:0]
	}
}

// canUndo is the number an undoing must name, 0 when only the cast-on is left.
func (c *cancelling) canUndo(log []Entry) uint64 {
	if len(c.holds) < 2 {
		return 0
	}
	return log[c.holds[len(c.holds)-1]].Seq
}

// canRedo is the number a redoing must name, 0 when there is none.
func (c *cancelling) canRedo(log []Entry) uint64 {
	if len(c.taken) == 0 {
		return 0
	}
	return log[c.taken[len(c.taken)-1].at].Seq
}
