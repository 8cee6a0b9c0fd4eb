package follow

import "strandwise/session"

// Effects are what the shell around the machine is to do, in the order of the fields.
type Effects struct {
	Sleep  bool // suspend the program, with the terminal as it was found
	Log    *Log
	Reload bool // read the piece from the store; the answer is State.Reloaded or State.Refused
	Draw   bool // draw the screen
	Whole  bool // clear it before, as something else has written on it
	Ring   bool // the bell: the knitter is to look up
	Quit   *Quit
}

// Log asks for events to be logged, all or none, provided that After is still the number of the
// newest event. State.Logged or State.Refused answers before another key is taken.
type Log struct {
	After  uint64
	Events []session.Event
}

// Quit asks for the mode to end. Interrupted tells that it was not by its own key.
type Quit struct{ Interrupted bool }
