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

// Spent is a time of knitting in hours and minutes, rounded to the minute: "1 h 5 min".
func Spent(d time.Duration) string {
	minutes := int(d.Round(time.Minute) / time.Minute)
	switch {
	case minutes < 1:
		return "under 1 min"
	case minutes < 60:
		return fmt.Sprintf("%d min", minutes)
	case minutes%60 == 0:
		return fmt.Sprintf("%d h", minutes/60)
	}
	return fmt.Sprintf("%d h %d min", minutes/60, minutes%60)
}

// dayTime is when something was logged, as the clock stood where it was.
func dayTime(t time.Time) string { return t.Format("2006-01-02 15:04") }

// Ranges writes ascending numbers with neighbors joined: 2, 3, 5 to 9.
func Ranges(numbers []int) []string {
	var words []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		switch j - i {
		case 0:
			words = append(words, fmt.Sprint(numbers[i]))
		case 1:
			words = append(words, fmt.Sprint(numbers[i]), fmt.Sprint(numbers[j]))
		default:
			words = append(words, fmt.Sprintf("%d to %d", numbers[i], numbers[j]))
		}
		i = j + 1
	}
	return words
}
