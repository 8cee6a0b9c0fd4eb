package frame

import (
	"fmt"
	"regexp"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// Names, notes and settings may come from a store or an export that somebody else made. A
// character in them that steers a terminal, or turns or hides the text beside it, is shown
// and never sent: as \u and four digits, which means the same in a JSON answer. That is done
// where text leaves, so that none goes another way; pictures, documents and exports written
// to standard output, which are no text for a terminal, go past it.

// colorCode is a code that sets colors; ours are let through where colors are shown.
var colorCode = regexp.MustCompile(`^\x1b\[[0-9;]*m`)

// Shown is text with the characters that would steer escaped.
func Shown(text []byte, colors bool) []byte {
	out := make([]byte, 0, len(text))
	for len(text) > 0 {
		if code := colorCode.Find(text); colors && code != nil {
			out, text = append(out, code...), text[len(code):]
			continue
		}
		r, n := utf8.DecodeRune(text)
		switch {
		case r == '\r' && len(text) > 1 && text[1] == '\n':
			out = append(out, '\r') // the end of a line of a table
		case r == utf8.RuneError && n == 1:
			out = fmt.Appendf(out, `\u%04x`, unicode.ReplacementChar)
		case steers(r):
			for _, unit := range utf16.AppendRune(nil, r) {
				out = fmt.Appendf(out, `\u%04x`, unit)
			}
		default:
			out = append(out, text[:n]...)
		}
		text = text[n:]
	}
	return out
}

// PlainText is text from a store that no reader of ours has checked, as it is shown: not even
// colors come of it.
func PlainText(text []byte) string { return string(Shown(text, false)) }

// steers reports whether a character is a control, or is not seen itself and changes how
// others are. The two joiners are letters of some scripts and parts of pictures.
func steers(r rune) bool {
	switch r {
	case '\n', '\t', 0x200C, 0x200D:
		return false
	}
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp)
}
