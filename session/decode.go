package session

// decoders reads the bytes of each kind.
var decoders = [len(kindWords)]func(*reader) Event{
	KindCastOn:       decodeCastOn,
	KindRowKnit:      decodeRowKnit,
	KindRipped:       decodeRipped,
	KindHoldChanged:  decodeHoldChanged,
	KindNoted:        decodeNoted,
	KindPaused:       decodePaused,
	KindBoundOff:     decodeBoundOff,
	KindUndone:       decodeUndone,
	KindRedone:       decodeRedone,
	KindReplanned:    decodeReplanned,
	KindRenamed:      decodeRenamed,
	KindYarnUsed:     decodeYarnUsed,
	KindBallNoted:    decodeBallNoted,
	KindNoteClosed:   decodeNoteClosed,
	KindRowChanged:   decodeRowChanged,
	KindRowBegun:     decodeRowBegun,
	KindTogether:     decodeTogether,
	KindLowerSet:     decodeLowerSet,
	KindRowCorrected: decodeRowCorrected,
	KindBallsCleared: decodeBallsCleared,
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
	e := decoders[k](&r)
	if err := r.end(k); err != nil {
		return nil, err
	}
	return e, nil
}

// PartsNamed lists the parts an event names: those of a cast-on or of a new plan.
func PartsNamed(e Event) []PartRef {
	switch e := e.(type) {
	case *CastOn:
		return e.Parts
	case *Replanned:
		return e.Parts
	}
	return nil
}
