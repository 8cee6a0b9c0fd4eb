package session

// kinds names each kind in messages, and makes its event to be read.
var kinds = [...]struct {
	word  string
	event func() Event
}{
	KindCastOn:       {"cast on", of[CastOn]},
	KindRowKnit:      {"row knitted", of[RowKnit]},
	KindRipped:       {"ripped back", of[Ripped]},
	KindHoldChanged:  {"hold changed", of[HoldChanged]},
	KindNoted:        {"note", of[Noted]},
	KindPaused:       {"paused", of[Paused]},
	KindBoundOff:     {"bound off", of[BoundOff]},
	KindUndone:       {"undone", of[Undone]},
	KindRedone:       {"redone", of[Redone]},
	KindReplanned:    {"replanned", of[Replanned]},
	KindRenamed:      {"renamed", of[Renamed]},
	KindYarnUsed:     {"yarn used", of[YarnUsed]},
	KindBallNoted:    {"ball noted", of[BallNoted]},
	KindNoteClosed:   {"note closed", of[NoteClosed]},
	KindRowChanged:   {"row knitted", of[RowKnit]},
	KindRowBegun:     {"row begun", of[RowBegun]},
	KindTogether:     {"logged together", of[Together]},
	KindLowerSet:     {"lower place told", of[LowerSet]},
	KindRowCorrected: {"row corrected", of[RowCorrected]},
	KindBallsCleared: {"balls forgotten", of[BallsCleared]},
	KindCastOnBlocks: {"cast on", of[CastOn]},
	KindNewBlocks:    {"replanned", of[Replanned]},
	KindPressed:      {"pressed", of[Pressed]},
}

func of[E any, P interface {
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

// Encode gives the kind and the bytes of an event, as a log keeps them. Decode
// gives an equal event back when the event is valid (see State.Check); the bytes
// of an event that is not valid may be ones that Decode refuses.
func Encode(e Event) (kind uint16, payload []byte) {
	w := wire{writing: true}
	e.fields(&w, e.kind())
	return uint16(e.kind()), w.b
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
	e, w := kinds[k].event(), wire{b: payload}
	e.fields(&w, k)
	if err := w.end(k); err != nil {
		return nil, err
	}
	return e, nil
}
