package session

import (
	"strings"

	"strandwise/floats"
)

// HoldChanged changes how the yarns are held, at once, and how they are caught, from the
// first row on that is not begun. Words left empty stay as they were.
type HoldChanged struct{ Grip }

func (e *HoldChanged) validate(s *State) error {
	if err := s.open(); err != nil {
		return err
	}
	now := s.Setup.Grip
	if now.Changed(e.Grip) == now {
		return now.refuseSameHold()
	}
	return now.Changed(e.Grip).check()
}

func (e *HoldChanged) apply(s *State, _ []Entry) {
	s.Setup.Grip = s.Setup.Grip.Changed(e.Grip)
	s.Grips = append(s.Grips, s.Setup.Grip)
}

func (e *HoldChanged) words(t historyWords) string {
	var parts []string
	for _, p := range [...]struct{ word, value string }{
		{"hold ", e.Hold},
		{"carry ", e.Carry},
		{"caught by ", Catching(e.Method)},
		{"dominant ", t.dominant(e.Dominant)},
	} {
		if p.value != "" {
			parts = append(parts, p.word+p.value)
		}
	}
	return "changed: " + strings.Join(parts, ", ")
}

// Catching is what a method is called as an act: weaving, twisting; empty for none.
func Catching(method string) string {
	return map[string]string{floats.Weave.String(): "weaving", floats.Twist.String(): "twisting"}[method]
}
