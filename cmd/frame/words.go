package frame

import (
	"fmt"
	"strings"
	"unicode"
)

// Counted is a number with its noun: 1 argument, 2 arguments, 2 stitches.
func Counted(n int, noun string) string { return fmt.Sprintf("%d %s", n, Plural(noun, n)) }

// Plural is the form of a noun that goes with a number.
func Plural(noun string, n int) string {
	switch {
	case n == 1:
		return noun
	case strings.HasSuffix(noun, "h"):
		return noun + "es"
	}
	return noun + "s"
}

func joinLines(lines []string) string { return strings.Join(lines, "\n") }

// InShell is a name as it is typed at a shell: in quotation marks where it has more than
// letters, digits and dashes.
func InShell(name string) string {
	if !strings.ContainsFunc(name, special) {
		return name
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, `$`, `\$`, "`", "\\`").Replace(name) + `"`
}

// special reports whether a shell may read a character otherwise than it stands.
func special(r rune) bool {
	return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-_.:@/,+%=", r)
}
