package session

// BoundOff ends the piece. Rows may be left unworked: a knitter may stop early.
type BoundOff struct{}

func (e *BoundOff) validate(s *State) error { return s.open() }

func (e *BoundOff) apply(s *State, _ []Entry) {
	s.BoundOff, s.Begun, s.OnNeedle = true, 0, nil
	s.lowerSegments()
}

func (e *BoundOff) words(historyWords) string { return "bound off" }
