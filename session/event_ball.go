package session

import (
	"cmp"
	"fmt"
)

// BallNoted keeps what a ball of a yarn holds, and its dye lot.
type BallNoted struct {
	Yarn   rune   // symbol
	Grams  Milli  // of one full ball; 0 when not known
	Meters Milli  // of one full ball; 0 when not known
	DyeLot string // as it stands on the band; empty when not known
}

func (e *BallNoted) validate(s *State) error {
	if err := cmp.Or(checkSymbol("yarn", e.Yarn), checkOptional("dye lot", e.DyeLot)); err != nil {
		return err
	}
	if e.DyeLot != "" && e.Grams == 0 && e.Meters == 0 {
		return nil
	}
	return checkAmounts(e.Grams, e.Meters)
}

func (e *BallNoted) apply(s *State, _ []Entry) { s.Balls = append(s.Balls, *e) }

func (e *BallNoted) words(t historyWords) string {
	line := "ball of " + t.symbol(e.Yarn)
	if e.Grams != 0 || e.Meters != 0 {
		line += ": " + amounts(e.Grams, e.Meters)
	}
	if e.DyeLot != "" {
		line += fmt.Sprintf(", dye lot %s", e.DyeLot)
	}
	return line
}
