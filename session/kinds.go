package session

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
