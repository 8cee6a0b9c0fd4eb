package session

import (
	"time"
)

// Event is one thing that happened to a piece. Only pointers to the event types
// of this package are events. An event is not changed once it is made.
type Event interface {
	kind() Kind

	// validate reports why the event cannot follow what the state knows. But for a cast-on the
	// piece is cast on.
	validate(s *State) error
	// apply adds a valid event to the state, whose slices belong to other states too: it appends
	// to them, or copies what it changes.
	apply(s *State, at stamp)
	// fields takes what an event of the kind is made of to its bytes, or from them.
	fields(w *wire, k Kind)
	// words is the line for the history, without what surrounds it.
	words(t historyWords) string
}

// stamp is where an event stands in the log.
type stamp struct {
	seq uint64
	at  time.Time // for display
}

// Record is an event as a log keeps it.
type Record struct {
	Seq     uint64 // its number in the log of the piece, from 1
	Kind    uint16
	At      time.Time // for display only
	Payload []byte
}

// Entry is one event of a log.
type Entry struct {
	Seq      uint64
	At       time.Time // for display only
	Event    Event     // never a *Pressed: of one it is what was logged
	Press    string    // the number of the press that logged it; empty for most
	Canceled bool      // undone, or for an undoing redone: the event does not hold

	met met
}

// met is what an event met of the piece, as far as its words need it.
type met struct {
	boundOff, begun bool
	shown           []Mark // of a row that is corrected
}

// metBy is what an event meets that is to be logged now.
func (s *State) metBy(e Event) met {
	m := met{boundOff: s.BoundOff, begun: s.Begun > 0}
	if c, is := e.(*RowCorrected); is {
		m.shown = s.DoneRow(c.Row).Shown
	}
	return m
}

// Kind says which event it is.
func (e Entry) Kind() Kind { return e.Event.kind() }
