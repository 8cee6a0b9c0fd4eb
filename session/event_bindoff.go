package session

// BoundOff ends the piece. Rows may be left unworked: a knitter may stop early.
type BoundOff struct{}

// Kind says which event it is.
func (e *BoundOff) Kind() Kind { return KindBoundOff }

func (e *BoundOff) validate(s *State) error { return s.open() }

func (e *BoundOff) apply(s *State, _ stamp) {
	s.BoundOff, s.Begun, s.OnNeedle = true, 0, nil
	s.lowerSegments()
}

func (e *BoundOff) encode(b []byte) []byte { return b }

func decodeBoundOff(*reader) Event { return &BoundOff{} }

func (e *BoundOff) words(historyWords) string { return "bound off" }
