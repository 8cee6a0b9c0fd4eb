// Package session keeps the life of one piece of knitting: what happened to it,
// event by event, and the state those events add up to.
//
// Nothing is ever edited. A piece is a log of events in order of their numbers;
// Fold reads the log from the start and gives the State. A correction is an event
// as well: undoing names the number of the event it cancels, redoing names the
// undoing it cancels, and ripping back is its own event, since it happened in the
// yarn. The time of an event is shown to the knitter and decides nothing.
//
// Each kind of event has one file, event_KIND.go: its fields in the order of their bytes, what makes it
// valid, what it does to the state, its line in the history. The bytes of a kind
// never change; an event that needs another field becomes another kind.
//
// Read in this order, from the ground up: event.go, state.go, wire.go and the events;
// fold.go (the log read into a state); layout.go and piece.go (the
// piece with its rows and its plan); repeats.go and strand.go (what lies in a row and behind
// it); changes.go and deviate.go (what was made otherwise); rowshown.go and sheet.go (one row, with
// glance.go, notes.go, seats.go, sheetmotion.go and reasons.go) and review.go (all of them).
//
// The package knows no file and prints nothing. It takes records of opaque bytes
// and hands such records back.
package session
