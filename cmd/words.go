package cmd

import (
	"fmt"
	"strings"
	"unicode"
)

// counted is a number with its noun: 1 argument, 2 arguments, 2 stitches.
func counted(n int, noun string) string { return fmt.Sprintf("%d %s", n, plural(noun, n)) }

// plural is the form of a noun that goes with a number.
func plural(noun string, n int) string {
	switch {
	case n == 1:
		return noun
	case strings.HasSuffix(noun, "h"):
		return noun + "es"
	}
	return noun + "s"
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

// inShell is a name as it is typed at a shell: in quotation marks where it has more than
// letters, digits and dashes.
func inShell(name string) string {
	if !strings.ContainsFunc(name, special) {
		return name
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, `$`, `\$`, "`", "\\`").Replace(name) + `"`
}

// special reports whether a shell may read a character otherwise than it stands.
func special(r rune) bool {
	return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-_.:@/,+%=", r)
}
