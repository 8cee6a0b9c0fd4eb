package paint

import (
	"strings"

	"github.com/mattn/go-runewidth"
)

// condition measures the same everywhere: the library's own one reads the locale
// and would take block marks for two columns wide in some.
var condition = &runewidth.Condition{EastAsianWidth: false, StrictEmojiNeutral: true}

// narrow are the stretches of characters, ends included, that take one column each
// and never join with a neighbor: what almost every line is made of. They are kept
// here because the library, at the first character beyond them, fills a table of
// 2 MiB, which takes longer than all else that is printed for a row.
var narrow = [...][2]rune{
	{0x20, 0x7E},     // ASCII
	{0xA1, 0xA8},     // Latin-1 without the no-break space, the marks that can be emoji, the soft hyphen
	{0xAA, 0xAC},     //
	{0xAF, 0x2FF},    // Latin letters
	{0x2012, 0x2015}, // dashes
	{0x2018, 0x2027}, // quotation marks, bullets
	{0x2190, 0x2193}, // arrows
	{0x2500, 0x25A9}, // lines, blocks, squares
	{0x25AC, 0x25B5}, // bars and triangles
	{0x25B7, 0x25BF}, //
	{0x25C1, 0x25FA}, // triangles, circles
}

func isNarrow(r rune) bool {
	for _, stretch := range narrow {
		if r <= stretch[1] {
			return r >= stretch[0]
		}
	}
	return false
}

// Width is how many columns text takes on a terminal. Text with color codes in it
// must be measured before it is colored.
func Width(text string) int {
	columns := 0
	for _, r := range text {
		if !isNarrow(r) {
			return condition.StringWidth(text)
		}
		columns++
	}
	return columns
}

// Pad fills text with blanks on the right up to width columns; longer text stays
// as it is.
func Pad(text string, width int) string {
	return text + strings.Repeat(" ", max(0, width-Width(text)))
}
