package session

import "time"

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
)

// Event is one thing that happened to a piece. Only pointers to the event types
// of this package are events. An event is not changed once it is made.
type Event interface {
	// Kind says which event it is.
	Kind() Kind

	// validate reports why the event cannot follow what the state knows.
	validate(s *State) error
	// apply adds a valid event to the state.
	apply(s *State, at stamp)
	// encode appends the bytes of the event.
	encode(b []byte) []byte
	// words is the line for the history, without what surrounds it.
	words(t historyWords) string
}

// stamp is where an event stands in the log.
type stamp struct {
	seq uint64
	at  time.Time // for display
}

// kinds holds, per kind, its name in messages and how its bytes are read.
var kinds = [...]struct {
	word   string
	decode func(*reader) Event
}{
	KindCastOn:       {"cast on", decodeCastOn},
	KindRowKnit:      {"row knitted", decodeRowKnit},
	KindRipped:       {"ripped back", decodeRipped},
	KindHoldChanged:  {"hold changed", decodeHoldChanged},
	KindNoted:        {"note", decodeNoted},
	KindPaused:       {"paused", decodePaused},
	KindBoundOff:     {"bound off", decodeBoundOff},
	KindUndone:       {"undone", decodeUndone},
	KindRedone:       {"redone", decodeRedone},
	KindReplanned:    {"replanned", decodeReplanned},
	KindRenamed:      {"renamed", decodeRenamed},
	KindYarnUsed:     {"yarn used", decodeYarnUsed},
	KindBallNoted:    {"ball noted", decodeBallNoted},
	KindNoteClosed:   {"note closed", decodeNoteClosed},
	KindRowChanged:   {"row knitted", decodeRowChanged},
	KindRowBegun:     {"row begun", decodeRowBegun},
	KindTogether:     {"logged together", decodeTogether},
	KindLowerSet:     {"lower place told", decodeLowerSet},
	KindRowCorrected: {"row corrected", decodeRowCorrected},
	KindBallsCleared: {"balls forgotten", decodeBallsCleared},
}

// known reports whether this version has the kind.
func (k Kind) known() bool { return int(k) < len(kinds) && kinds[k].decode != nil }

// String is the name of the kind in messages.
func (k Kind) String() string {
	if !k.known() {
		return "unknown"
	}
	return kinds[k].word
}

// Encode gives the kind and the bytes of an event, as a log keeps them. Decode
// gives an equal event back when the event is valid (see State.Check); the bytes
// of an event that is not valid may be ones that Decode refuses.
func Encode(e Event) (kind uint16, payload []byte) {
	return uint16(e.Kind()), e.encode(nil)
}

// Decode reads an event from the kind and bytes of a log. It keeps no part of
// payload. A kind that this version does not have is a *NewerError; bytes that are
// not what Encode writes for the kind are a *MalformedError. Whatever it accepts,
// Encode turns into the same bytes again.
func Decode(kind uint16, payload []byte) (Event, error) {
	k := Kind(kind)
	if !k.known() {
		return nil, &NewerError{Kind: kind}
	}
	r := reader{b: payload}
	e := kinds[k].decode(&r)
	if err := r.end(k); err != nil {
		return nil, err
	}
	return e, nil
}
