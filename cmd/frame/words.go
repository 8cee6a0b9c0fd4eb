package frame

import (
	"strings"
	"unicode"
)

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
