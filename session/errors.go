package session

import "fmt"

// FieldError tells that a value given for an event is not one it can take.
type FieldError struct{ Field, Got, Want string }

func (e *FieldError) Error() string {
	return fmt.Sprintf("%s: %s is not possible; give %s", e.Field, e.Got, e.Want)
}

// RefusedError tells that something cannot be logged as the log stands, or cannot be as it was said.
type RefusedError struct {
	What       string   // the whole sentence
	Try        []string // what to do or to say instead
	Unreadable bool     // it is not written as places or runs are
	Piece      string   // where nothing but the cast-on is left to undo: the name of the piece, to be removed

	Row, Next int // of a row with others below it that are not worked: its number, and the row to work
}

func (e *RefusedError) Error() string { return e.What }

func refuse(format string, args ...any) *RefusedError {
	return &RefusedError{What: fmt.Sprintf(format, args...)}
}

func (e *RefusedError) instead(format string, args ...any) *RefusedError {
	e.Try = []string{fmt.Sprintf(format, args...)}
	return e
}

// toFindOut comes before anything is ripped: a number offered might take out too much.
const toFindOut = "strandwise resume, which says where you are"

func refuseNotCastOn() error {
	return refuse("the piece is not cast on yet; begin with a cast-on").instead("strandwise cast-on NAME PART...")
}

// NewerError tells that a log holds a kind of event this version does not know.
type NewerError struct{ Kind uint16 }

func (e *NewerError) Error() string {
	return fmt.Sprintf("events of kind %d were written by a newer version of the program; use that version to go on", e.Kind)
}

// MalformedError tells that the bytes of an event are not what its kind writes.
type MalformedError struct {
	Kind   Kind
	Offset int // into the event's bytes, from 0
	Fault  string
}

func (e *MalformedError) Error() string {
	return fmt.Sprintf("the event's content (%s) is damaged at byte %d: %s; check the store, or restore a backup", e.Kind, e.Offset, e.Fault)
}

// EventError tells which event of a log could not be read or does not follow from those before it.
type EventError struct {
	Seq  uint64
	Kind Kind
	Err  error
}

func (e *EventError) Error() string { return fmt.Sprintf("event %d (%s): %v", e.Seq, e.Kind, e.Err) }

// Unwrap gives the reason.
func (e *EventError) Unwrap() error { return e.Err }
