package follow

import "strandwise/session"

// Effect is something for the shell around the machine to do. Effects are carried
// out in order.
type Effect interface{ effect() }

// Log asks for events to be logged, all or none, provided that After is still the
// number of the newest event of the piece; otherwise another terminal has logged
// something. The shell answers with State.Logged or State.Refused before it takes
// another key.
type Log struct {
	After  uint64
	Events []session.Event
}

// Draw asks for the screen to be drawn. Whole asks for it to be cleared before, for
// a screen that something else has written on.
type Draw struct{ Whole bool }

// Reload asks for the piece to be read from the store; the answer is
// State.Reloaded or State.Refused.
type Reload struct{}

// Ring asks for the bell: the knitter is to look up.
type Ring struct{}

// Sleep asks for the program to be suspended, with the terminal as it was found.
type Sleep struct{}

// Quit asks for the mode to end. Interrupted tells that it was not by its own key.
type Quit struct{ Interrupted bool }

func (Log) effect()    {}
func (Draw) effect()   {}
func (Reload) effect() {}
func (Ring) effect()   {}
func (Sleep) effect()  {}
func (Quit) effect()   {}
