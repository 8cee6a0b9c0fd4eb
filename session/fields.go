package session

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// The longest texts an event takes, in bytes: generous for a person, small beside a page of the store.
const (
	maxLine = 200
	maxNote = 4000
)

func checkLine(field, text string) error {
	switch {
	case text == "":
		return &FieldError{field, "empty", "at least one character"}
	case len(text) > maxLine:
		return &FieldError{field, fmt.Sprintf("%d bytes long", len(text)), fmt.Sprintf("at most %d", maxLine)}
	case !utf8.ValidString(text) || strings.ContainsFunc(text, unseen):
		return &FieldError{field, fmt.Sprintf("%q", text), "one line of plain text"}
	case strings.TrimSpace(text) != text:
		return &FieldError{field, fmt.Sprintf("%q", text), "no space at either end"}
	}
	return nil
}

func checkOptional(field, text string) error {
	if text == "" {
		return nil
	}
	return checkLine(field, text)
}

func unseen(r rune) bool { return !unicode.IsPrint(r) }

func checkRange(field string, v, lowest int) error { return checkBetween(field, v, lowest, maxInt) }

func checkBetween(field string, v, lowest, highest int) error {
	want := fmt.Sprintf("a whole number from %d", lowest)
	if highest < maxInt {
		want += fmt.Sprintf(" to %d", highest)
	}
	if v < lowest || v > highest {
		return &FieldError{field, fmt.Sprint(v), want}
	}
	return nil
}

func checkWord(field, word string, choices ...string) error {
	if slices.Contains(choices, word) {
		return nil
	}
	return &FieldError{field, fmt.Sprintf("%q", word), "one of: " + strings.Join(choices, ", ")}
}

func checkSymbol(field string, symbol rune) error {
	if !utf8.ValidRune(symbol) || !unicode.IsGraphic(symbol) || unicode.IsSpace(symbol) {
		return &FieldError{field, fmt.Sprintf("%q", symbol), "the symbol of a yarn"}
	}
	return nil
}

// Milli is an amount in thousandths of its unit, grams or meters, kept whole so that sums are exact.
type Milli int

// String is the amount in its unit, without needless zeros: 18500 is 18.5.
func (m Milli) String() string { return strconv.FormatFloat(m.Float(), 'f', -1, 64) }

// Float is the amount in its unit.
func (m Milli) Float() float64 { return float64(m) / 1000 }

var milliForm = regexp.MustCompile(`^\d+(\.\d{1,3})?$`)

// ParseMilli reads digits with at most three decimals, above 0 and up to two million; else a *FieldError.
func ParseMilli(text string) (Milli, error) {
	amount, err := strconv.ParseFloat(text, 64)
	if n := math.Round(amount * 1000); milliForm.MatchString(text) && err == nil && n >= 1 && n <= maxInt {
		return Milli(n), nil
	}
	return 0, &FieldError{"amount", fmt.Sprintf("%q", text), "a number above 0 with at most three decimals, such as 18.5"}
}

func checkAmounts(grams, meters Milli) error {
	if grams == 0 && meters == 0 {
		return &FieldError{"amount", "none", "grams or meters"}
	}
	return cmp.Or(checkRange("grams", int(grams), 0), checkRange("meters", int(meters), 0))
}

// amounts is "50 g, 175 m", leaving out what is 0.
func amounts(grams, meters Milli) string {
	switch {
	case meters == 0:
		return grams.String() + " g"
	case grams == 0:
		return meters.String() + " m"
	}
	return fmt.Sprintf("%s g, %s m", grams, meters)
}
