// Package paint decides, for each output stream, how many colors and which marks there are, and
// colors and wraps text. Nothing else in the program knows about terminals' color codes.
package paint

import "strings"

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
