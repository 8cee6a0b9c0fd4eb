package answer

import (
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// countOf is a number with its noun: 1 stitch, 2 stitches, no gaps.
func countOf(n int, noun string) string {
	switch {
	case n == 1:
		return "1 " + noun
	case strings.HasSuffix(noun, "ch"):
		noun += "es"
	default:
		noun += "s"
	}
	if n == 0 {
		return "no " + noun
	}
	return fmt.Sprintf("%d %s", n, noun)
}

// listed joins words as a sentence does: a, b and c.
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	end := len(words) - 1
	return strings.Join(words[:end], ", ") + " and " + words[end]
}

// sentence gives a text its capital and its stop. It must not begin with a name.
func sentence(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	text = string(unicode.ToUpper(first)) + text[size:]
	if !strings.ContainsAny(text[len(text)-1:], ".!?:") {
		text += "."
	}
	return text
}

// roughly is a length of time that is an estimate.
func roughly(d time.Duration) string {
	if d < time.Minute/2 {
		return Spent(d)
	}
	return "about " + Spent(d)
}

// ago says roughly how long ago something was.
func ago(d time.Duration) string {
	const day = 24 * time.Hour
	switch {
	case d < time.Minute:
		return "just now"
	case d < 2*time.Hour:
		return Spent(d) + " ago"
	case d < 2*day:
		return fmt.Sprintf("%d hours ago", d/time.Hour)
	case d < 60*day:
		return fmt.Sprintf("%d days ago", d/day)
	}
	return fmt.Sprintf("%d months ago", d/(30*day))
}
