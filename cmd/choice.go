package cmd

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
)

// choice is a flag's value that is one of a few words.
type choice struct {
	to    *string
	words []string
}

// oneOf makes the value of a flag that takes one of the words; to holds the
// default and later what was given.
func oneOf(to *string, words ...string) *choice { return &choice{to, words} }

// String is the word in force.
func (c *choice) String() string {
	if c.to == nil {
		return ""
	}
	return *c.to
}

// Type is the list of words, as help shows it.
func (c *choice) Type() string { return strings.Join(c.words, "|") }

// Set takes a word, or gives a *choiceError.
func (c *choice) Set(word string) error {
	if !slices.Contains(c.words, word) {
		return &choiceError{word, c.words}
	}
	*c.to = word
	return nil
}

// choiceError tells that a word is none of the few that were possible.
type choiceError struct {
	word  string
	words []string
}

// Error lists the possible words.
func (e *choiceError) Error() string {
	return fmt.Sprintf("takes %s, not %q", listed(e.words, "or"), e.word)
}

// meant is the word that was most likely meant, or the first.
func (e *choiceError) meant() string {
	if near := chart.Nearest(e.word, e.words); near != "" {
		return near
	}
	return e.words[0]
}
