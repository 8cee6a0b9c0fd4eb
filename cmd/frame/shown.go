package frame

import (
	"fmt"
	"regexp"
	"slices"
	"unicode/utf16"
	"unicode/utf8"
)

// Names, notes and settings may come from a store or an export that somebody else made. A
// character in them that steers a terminal, or turns or hides the text beside it, is shown
// and never sent: as \u and four digits, which means the same in a JSON answer. That is done
// where text leaves, so that none goes another way; pictures, documents and exports written
// to standard output, which are no text for a terminal, go past it.

// steering is what may steer: line ends of a table and codes that set colors, which are looked at as
// a whole, then whatever is a control, or is not seen itself and changes how others are, and what
// stands for bytes that are no letters.
var steering = regexp.MustCompile(`\r\n|\x1b\[[0-9;]*m|[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\x{FFFD}]`)

// harmless are sent as they are: the two joiners are letters of some scripts and parts of pictures.
var harmless = []string{"\r\n", "\n", "\t", "\u200C", "\u200D", "\uFFFD"}

// Shown is text with what would steer escaped; our own codes pass where colors are shown.
func Shown(text []byte, colors bool) []byte {
	return steering.ReplaceAllFunc(text, func(found []byte) []byte {
		r, n := utf8.DecodeRune(found)
		if slices.Contains(harmless, string(found)) || colors && r == '\x1b' && len(found) > n {
			return found
		}
		var out []byte
		for _, unit := range utf16.AppendRune(nil, r) {
			out = fmt.Appendf(out, `\u%04x`, unit)
		}
		return append(out, found[n:]...)
	})
}

// PlainText is unchecked text from a store as it is shown, without even colors.
func PlainText(text []byte) string { return string(Shown(text, false)) }
