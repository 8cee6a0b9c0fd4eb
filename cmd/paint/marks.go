package paint

import (
	"runtime"
	"strings"
)

// The words for which marks to use, beside Auto.
const (
	Unicode = "unicode"
	ASCII   = "ascii"
)

// Marks are the signs that stand beside or under stitches, each one column wide.
type Marks struct {
	Catch string // under a stitch with a catch
	Shape string // under a stitch worked otherwise than the rest: shaped, or purled
	Chose string // under the catch that is chosen
	Left  string // the row is worked towards the left
	Right string // towards the right
	Block string // a stitch where color alone would show it
	Blank string // a place without a stitch
}

var unicodeMarks = Marks{Catch: "▲", Shape: "◆", Chose: "●", Left: "←", Right: "→", Block: "█", Blank: "·"}

var asciiMarks = Marks{Catch: "^", Shape: "=", Chose: "@", Left: "<", Right: ">", Block: "#", Blank: " "}

// ChooseMarks picks the marks: Unicode and ASCII decide, Auto asks the locale.
func ChooseMarks(which string, getenv func(string) string) Marks {
	if which == Unicode || which == Auto && UTF8(getenv) {
		return unicodeMarks
	}
	return asciiMarks
}

// UTF8 reports whether the locale's characters are UTF-8. The first variable that
// is set counts (POSIX.1-2017, Base Definitions 8.2). Windows has no such
// variables; there it is taken for granted.
func UTF8(getenv func(string) string) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale := strings.ToLower(getenv(name)); locale != "" {
			return strings.Contains(locale, "utf-8") || strings.Contains(locale, "utf8")
		}
	}
	return runtime.GOOS == "windows"
}
