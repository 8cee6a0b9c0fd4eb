// Package paint decides, for each output stream, how many colors and which marks there are, and
// colors and wraps text. Nothing else in the program knows about terminals' color codes.
package paint

import (
	"runtime"
	"strings"
)

// Look is how text is to appear on one stream.
type Look struct {
	Paint *Painter
	Marks Marks
	Width int  // columns, at least 1
	Plain bool // sentences for a speech program: no columns, no marks, no color
	Quiet bool // without what was done and what comes next
}

// Depth is how many colors a stream shows.
type Depth uint8

// The depths, from none up.
const (
	None    Depth = iota // no codes at all, not even bold
	Sixteen              // the sixteen named colors, as the terminal likes to show them
	Palette              // 256 colors, of which the upper 240 are fixed
	True                 // 24 bits
)

// The words for when to use color and for which marks to use. Auto goes for both.
const (
	Auto   = "auto"
	Always = "always"
	Never  = "never"
)

// Decide finds the depth of one stream. Auto wants a terminal that is not dumb. NO_COLOR is
// turned into Never by whoever resolves the settings, so that a flag can beat it.
func Decide(when string, terminal bool, getenv func(string) string) Depth {
	term, colorTerm := getenv("TERM"), getenv("COLORTERM")
	switch {
	case when == Never || when != Always && (!terminal || term == "dumb"):
		return None
	case colorTerm == "truecolor" || colorTerm == "24bit" || strings.HasSuffix(term, "-direct"):
		return True
	case strings.Contains(term, "256color"):
		return Palette
	}
	return Sixteen
}

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
