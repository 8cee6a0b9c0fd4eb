package session

import (
	"cmp"
	"fmt"
)

// YarnUsed keeps how much of a yarn was measured to be used so far, by at least one of the amounts.
type YarnUsed struct {
	Yarn   rune  // symbol
	Grams  Milli // 0 when not weighed
	Meters Milli // 0 when not measured
}

func (e *YarnUsed) validate(s *State) error {
	return cmp.Or(checkSymbol("yarn", e.Yarn), checkAmounts(e.Grams, e.Meters))
}

func (e *YarnUsed) apply(s *State, _ []Entry) { s.Used = append(s.Used, Used{*e, s.Row}) }

func (e *YarnUsed) words(t historyWords) string {
	return fmt.Sprintf("%s used so far: %s", t.symbol(e.Yarn), amounts(e.Grams, e.Meters))
}
