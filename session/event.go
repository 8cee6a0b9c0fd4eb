package session

import (
	"reflect"
	"time"
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

// kinds names each kind in messages, with the type of its events.
var kinds = [...]struct {
	word string
	of   Event // none, of the type
}{
	KindCastOn:       {"cast on", (*CastOn)(nil)},
	KindRowKnit:      {"row knitted", (*RowKnit)(nil)},
	KindRipped:       {"ripped back", (*Ripped)(nil)},
	KindHoldChanged:  {"hold changed", (*HoldChanged)(nil)},
	KindNoted:        {"note", (*Noted)(nil)},
	KindPaused:       {"paused", (*Paused)(nil)},
	KindBoundOff:     {"bound off", (*BoundOff)(nil)},
	KindUndone:       {"undone", (*Undone)(nil)},
	KindRedone:       {"redone", (*Redone)(nil)},
	KindReplanned:    {"replanned", (*Replanned)(nil)},
	KindRenamed:      {"renamed", (*Renamed)(nil)},
	KindYarnUsed:     {"yarn used", (*YarnUsed)(nil)},
	KindBallNoted:    {"ball noted", (*BallNoted)(nil)},
	KindNoteClosed:   {"note closed", (*NoteClosed)(nil)},
	KindRowChanged:   {"row knitted", (*RowKnit)(nil)},
	KindRowBegun:     {"row begun", (*RowBegun)(nil)},
	KindTogether:     {"logged together", (*Together)(nil)},
	KindLowerSet:     {"lower place told", (*LowerSet)(nil)},
	KindRowCorrected: {"row corrected", (*RowCorrected)(nil)},
	KindBallsCleared: {"balls forgotten", (*BallsCleared)(nil)},
	KindCastOnBlocks: {"cast on", (*CastOn)(nil)},
	KindNewBlocks:    {"replanned", (*Replanned)(nil)},
	KindPressed:      {"pressed", (*Pressed)(nil)},
}

func (k Kind) known() bool { return int(k) < len(kinds) && kinds[k].of != nil }

// event is an empty event of a known kind.
func (k Kind) event() Event {
	return reflect.New(reflect.TypeOf(kinds[k].of).Elem()).Interface().(Event)
}

// kindOf is the kind an event is logged as: where its type has two, the event says whether it takes the newer.
func kindOf(e Event) (found Kind) {
	two, is := e.(interface{ newer() bool })
	for k, row := range kinds {
		if reflect.TypeOf(row.of) == reflect.TypeOf(e) && (found == 0 || is && two.newer()) {
			found = Kind(k)
		}
	}
	return found
}

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
	w, k := wire{writing: true}, kindOf(e)
	w.event(e, k)
	return uint16(k), w.b
}

// Decode reads an event from the kind and bytes of a log and keeps no part of them. Another kind is a
// *NewerError; bytes that Encode does not write for the kind are a *MalformedError.
func Decode(kind uint16, payload []byte) (Event, error) {
	k := Kind(kind)
	if !k.known() {
		return nil, &NewerError{Kind: kind}
	}
	e, w := k.event(), wire{b: payload}
	w.event(e, k)
	if err := w.end(k); err != nil {
		return nil, err
	}
	return e, nil
}
