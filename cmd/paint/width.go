package paint

import "github.com/mattn/go-runewidth"

// condition measures the same everywhere: the library's own one reads the locale
// and would take block marks for two columns wide in some.
var condition = &runewidth.Condition{EastAsianWidth: false, StrictEmojiNeutral: true}

// Width is how many columns text takes on a terminal. Text with colour codes in it
// must be measured before it is coloured.
func Width(text string) int { return condition.StringWidth(text) }

// Pad fills text with blanks on the right up to width columns; longer text stays
// as it is.
func Pad(text string, width int) string { return condition.FillRight(text, width) }
