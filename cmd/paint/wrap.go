package paint

import (
	"iter"
	"strings"

	"github.com/mattn/go-runewidth"
)

// condition measures the same everywhere: the library's own one reads the locale
// and would take block marks for two columns wide in some.
var condition = &runewidth.Condition{EastAsianWidth: false, StrictEmojiNeutral: true}

// Width is how many columns text takes on a terminal. Text with color codes in it
// must be measured before it is colored.
func Width(text string) int { return condition.StringWidth(text) }

// Pad fills text with blanks on the right up to width columns.
func Pad(text string, width int) string {
	return text + strings.Repeat(" ", max(0, width-Width(text)))
}

// Lines sets pieces on lines, on each as many as fit, and at least one.
func Lines[T any](pieces []T, fit func([]T) bool) iter.Seq[[]T] {
	return func(yield func([]T) bool) {
		for begin, end := 0, 1; end <= len(pieces); end++ {
			if end < len(pieces) && fit(pieces[begin:end+1]) {
				continue
			}
			if !yield(pieces[begin:end]) {
				return
			}
			begin = end
		}
	}
}

// Wrap sets words, one blank between them, on lines of at most width columns. Every line begins
// with prefix, so that each can be read alone. A word wider than a line gets one to itself and
// sticks out. Without words there are no lines.
func Wrap(prefix string, words []string, width int) []string {
	line := func(words []string) string { return prefix + strings.Join(words, " ") }
	var lines []string
	for words := range Lines(words, func(words []string) bool { return Width(line(words)) <= width }) {
		lines = append(lines, line(words))
	}
	return lines
}
