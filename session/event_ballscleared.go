package session

import "slices"

// BallsCleared forgets the balls noted so far of a yarn: those noted after it stand in their place. It is
// a kind of its own since a ball noted adds to those there are, in every log that has one.
type BallsCleared struct{ Yarn rune } // symbol

func (e *BallsCleared) validate(*State) error { return checkSymbol("yarn", e.Yarn) }

func (e *BallsCleared) apply(s *State, _ []Entry) {
	s.Balls = slices.DeleteFunc(slices.Clone(s.Balls), func(b BallNoted) bool { return b.Yarn == e.Yarn })
}

func (e *BallsCleared) words(t historyWords) string {
	return "balls of " + t.symbol(e.Yarn) + " forgotten"
}
