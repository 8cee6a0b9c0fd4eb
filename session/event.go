package session

import (
	"time"

	"strandwise/floats"
)

// Event is one thing that happened to a piece. Only pointers to the event types
// of this package are events. An event is not changed once it is made.
type Event interface {
	// validate reports why the event cannot follow what the state knows. But for a cast-on the
	// piece is cast on.
	validate(s *State) error
	// apply adds a valid event, the last of the log, to the state, whose slices belong to other states
	// too: it appends to them, or copies what it changes.
	apply(s *State, log []Entry)
	// words is the line for the history, without what surrounds it.
	words(t historyWords) string
}

// historyWords is what an event is told by in the history: the piece and its state as they are now, and the
// event, which has the state that it met.
type historyWords struct {
	piece *Piece
	state *State
	Entry // the event told
}

// fabric is as it was laid when the event was logged; nil where it cannot be any more.
func (t historyWords) fabric() *floats.Fabric {
	if t.piece.former == nil {
		return t.piece.Layout.Fabric
	}
	return t.piece.former[t.Seq]
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

	met  *State // before it
	step int    // the index in the log of the first event of its step; 0 of an undoing or redoing
}

// Kind says which event it is.
func (e Entry) Kind() Kind { return kindOf(e.Event) }

// Kind says what an event is about. Its number stands in the log and never changes its meaning.
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
