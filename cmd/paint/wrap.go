package paint

import "strings"

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
	var line strings.Builder
	start := Width(prefix)
	used := start
	for i, piece := range pieces {
		w := Width(piece.Text)
		if i > 0 && width > 0 && used+1+w > width {
			lines = append(lines, line.String())
			line.Reset()
			used = start
		}
		if line.Len() == 0 {
			line.WriteString(prefix)
		} else {
			line.WriteByte(' ')
			used++
		}
		line.WriteString(piece.String())
		used += w
	}
	if len(pieces) > 0 {
		lines = append(lines, line.String())
	}
	return lines
}
