package session

import "fmt"

// Kind says what an event is about. Its number stands in the log and never
// changes its meaning.
type Kind uint16

// The kinds of event.
const (
	KindCastOn       Kind = 1
	KindRowKnit      Kind = 2
	KindRipped       Kind = 3
	KindHoldChanged  Kind = 4
	KindNoted        Kind = 5
	KindPaused       Kind = 6
	KindBoundOff     Kind = 7
	KindUndone       Kind = 8
	KindRedone       Kind = 9
	KindReplanned    Kind = 10
	KindRenamed      Kind = 11
	KindYarnUsed     Kind = 12
	KindBallNoted    Kind = 13
	KindNoteClosed   Kind = 14
	KindRowChanged   Kind = 15
	KindRowBegun     Kind = 16
	KindTogether     Kind = 17
	KindLowerSet     Kind = 18
	KindRowCorrected Kind = 19
	KindBallsCleared Kind = 20
	KindCastOnBlocks Kind = 21 // CastOn with parts that have blocks
	KindNewBlocks    Kind = 22 // Replanned with such parts
	KindPressed      Kind = 23
)

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

// EventError tells which event of a log could not be read or does not follow from
// those before it; Err says why.
type EventError struct {
	Seq  uint64
	Kind Kind
	Err  error
}

func (e *EventError) Error() string { return fmt.Sprintf("event %d (%s): %v", e.Seq, e.Kind, e.Err) }

// Unwrap gives the reason.
func (e *EventError) Unwrap() error { return e.Err }

// OrderError tells that the records of a log do not come in order of their
// numbers.
type OrderError struct{ Seq, After uint64 }

func (e *OrderError) Error() string {
	return fmt.Sprintf("event %d comes after event %d in the log; check the store", e.Seq, e.After)
}
