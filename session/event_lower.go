package session

// LowerSet tells which place's strand comes from below in the knitter's hands: a fact that
// only she can see, where teachers differ. It holds until the hold or the carry changes.
type LowerSet struct{ Place string } // the short name of a place of her hold, such as near strand

func (e *LowerSet) validate(s *State) error {
	if err := s.open(); err != nil {
		return err
	}
	if e.Place == s.Setup.Grip.Lower {
		return s.Setup.Grip.refuseSameHold()
	}
	place, err := s.Setup.Grip.Hands(s.Setup.Mirror).ParsePlace(e.Place)
	if err == nil && place.String() != e.Place {
		return &FieldError{"lower place", e.Place, place.String()}
	}
	return err
}

func (e *LowerSet) apply(s *State, _ []Entry) {
	s.Setup.Grip.Lower = e.Place
	s.Grips = append(s.Grips, s.Setup.Grip)
}

func (e *LowerSet) words(historyWords) string { return "changed: the strand from below is " + e.Place }
