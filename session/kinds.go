package session

import (
	"fmt"
	"reflect"
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

func (k Kind) event() Event {
	return reflect.New(reflect.TypeOf(kinds[k].of).Elem()).Interface().(Event)
}

// kindOf is the kind an event is logged as: where its type has two, the later row is the newer, and the event says
// whether it takes that.
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
	if k == 0 {
		panic(fmt.Sprintf("session: %T is no event", e))
	}
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
