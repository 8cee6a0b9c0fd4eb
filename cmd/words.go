package cmd

import (
	"fmt"
	"strings"
)

// counted is a number with its noun: 1 argument, 2 arguments.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// listed joins words as a sentence does: a, b or c.
func listed(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	end := len(words) - 1
	return strings.Join(words[:end], ", ") + " " + last + " " + words[end]
}

func joinLines(lines []string) string { return strings.Join(lines, "\n") }
