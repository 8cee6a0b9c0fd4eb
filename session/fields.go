package session

import (
	"fmt"
	"slices"
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
