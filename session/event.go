package session

import "time"

// Event is one thing that happened to a piece. Only pointers to the event types
// of this package are events. An event is not changed once it is made.
type Event interface {
	kind() Kind

	// validate reports why the event cannot follow what the state knows. But for a cast-on the
	// piece is cast on.
	validate(s *State) error
	// apply adds a valid event, the last of the log, to the state, whose slices belong to other states
	// too: it appends to them, or copies what it changes.
	apply(s *State, log []Entry)
	// fields takes what an event of the kind is made of to its bytes, or from them.
	fields(w *wire, k Kind)
	// words is the line for the history, without what surrounds it.
	words(t historyWords) string
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
func (e Entry) Kind() Kind { return e.Event.kind() }

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

// kinds names each kind in messages, and makes its event to be read.
var kinds = [...]struct {
	word  string
	event func() Event
}{
	KindCastOn:       {"cast on", newEvent[CastOn]},
	KindRowKnit:      {"row knitted", newEvent[RowKnit]},
	KindRipped:       {"ripped back", newEvent[Ripped]},
	KindHoldChanged:  {"hold changed", newEvent[HoldChanged]},
	KindNoted:        {"note", newEvent[Noted]},
	KindPaused:       {"paused", newEvent[Paused]},
	KindBoundOff:     {"bound off", newEvent[BoundOff]},
	KindUndone:       {"undone", newEvent[Undone]},
	KindRedone:       {"redone", newEvent[Redone]},
	KindReplanned:    {"replanned", newEvent[Replanned]},
	KindRenamed:      {"renamed", newEvent[Renamed]},
	KindYarnUsed:     {"yarn used", newEvent[YarnUsed]},
	KindBallNoted:    {"ball noted", newEvent[BallNoted]},
	KindNoteClosed:   {"note closed", newEvent[NoteClosed]},
	KindRowChanged:   {"row knitted", newEvent[RowKnit]},
	KindRowBegun:     {"row begun", newEvent[RowBegun]},
	KindTogether:     {"logged together", newEvent[Together]},
	KindLowerSet:     {"lower place told", newEvent[LowerSet]},
	KindRowCorrected: {"row corrected", newEvent[RowCorrected]},
	KindBallsCleared: {"balls forgotten", newEvent[BallsCleared]},
	KindCastOnBlocks: {"cast on", newEvent[CastOn]},
	KindNewBlocks:    {"replanned", newEvent[Replanned]},
	KindPressed:      {"pressed", newEvent[Pressed]},
}

func newEvent[E any, P interface {
	*E
	Event
}]() Event {
	return P(new(E))
}

func (k Kind) known() bool { return int(k) < len(kinds) && kinds[k].event != nil }

// String is the name of the kind in messages.
func (k Kind) String() string {
	if !k.known() {
		return "unknown"
	}
	return kinds[k].word
}

// Encode gives the kind and the bytes of an event, as a log keeps them. Decode gives an equal event back
// when the event is valid (see State.Check); else it may refuse the bytes.
func Encode(e Event) (kind uint16, payload []byte) {
	w := wire{writing: true}
	e.fields(&w, e.kind())
	return uint16(e.kind()), w.b
}

// Decode reads an event from the kind and bytes of a log and keeps no part of them. Another kind is a
// *NewerError; bytes that Encode does not write for the kind are a *MalformedError.
func Decode(kind uint16, payload []byte) (Event, error) {
	k := Kind(kind)
	if !k.known() {
		return nil, &NewerError{Kind: kind}
	}
	e, w := kinds[k].event(), wire{b: payload}
	e.fields(&w, k)
	if err := w.end(k); err != nil {
		return nil, err
	}
	return e, nil
}
