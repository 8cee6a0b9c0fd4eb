package paint

import (
	"strings"

	"github.com/mattn/go-runewidth"
)

// condition measures the same everywhere: the library's own one reads the locale
// and would take block marks for two columns wide in some.
var condition = &runewidth.Condition{EastAsianWidth: false, StrictEmojiNeutral: true}

// Width is how many columns text takes on a terminal. Text with color codes in it
// must be measured before it is colored.
func Width(text string) int { return condition.StringWidth(text) }

// Pad fills text with blanks on the right up to width columns; longer text stays
// as it is.
func Pad(text string, width int) string {
	return text + strings.Repeat(" ", max(0, width-Width(text)))
}

// Span is a bit of text that is never broken over two lines.
type Span struct {
	Text  string
	Style func(string) string // colors Text after it was measured; nil leaves it
}

// Spans makes plain pieces of texts.
func Spans(texts ...string) []Span {
	pieces := make([]Span, len(texts))
	for i, text := range texts {
		pieces[i].Text = text
	}
	return pieces
}

// String is the piece as it is printed, with its colors.
func (p Span) String() string {
	if p.Style == nil {
		return p.Text
	}
	return p.Style(p.Text)
}

// Wrap sets pieces, one blank between them, on lines of at most width columns.
// Every line begins with prefix, so that each can be read alone. A piece wider
// than a line gets one to itself and sticks out. A width of 0 or less is no limit.
// Without pieces there are no lines.
func Wrap(prefix string, pieces []Span, width int) []string {
	var lines []string
	used := 0
	for i, piece := range pieces {
		w := Width(piece.Text)
		if i > 0 && (width <= 0 || used+1+w <= width) {
			lines[len(lines)-1] += " " + piece.String()
			used += 1 + w
			continue
		}
		lines = append(lines, prefix+piece.String())
		used = Width(prefix) + w
	}
	return lines
}
