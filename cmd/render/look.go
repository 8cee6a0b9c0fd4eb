package render

import (
	"fmt"
	"io"
	"strings"

	"strandwise/cmd/paint"
)

// Look is how text is to appear on one stream.
type Look = paint.Look

// page gathers lines of text and remembers the first failed write.
type page struct {
	w    io.Writer
	look Look
	err  error
}

// line writes one finished line.
func (p *page) line(text string) {
	if p.err == nil {
		_, p.err = io.WriteString(p.w, strings.TrimRight(text, " ")+"\n")
	}
}

// style is how a line is set: Painter.Quiet, Painter.Strong, or nil for as it is.
type style func(string) string

// text writes a text broken between words; the label stands before the first line
// and the others are indented as far.
func (p *page) text(label, text string, set style) {
	indent := strings.Repeat(" ", paint.Width(label))
	for i, line := range paint.Wrap(indent, paint.Spans(strings.Fields(text)...), p.look.Width) {
		if i == 0 {
			line = label + line[len(indent):]
		}
		if set != nil {
			line = set(line)
		}
		p.line(line)
	}
}

// sentence gives a text its capital and its stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	text = strings.ToUpper(text[:1]) + text[1:]
	if !strings.ContainsAny(text[len(text)-1:], ".!?:") {
		text += "."
	}
	return text
}

// counted is a number with its noun: 1 stitch, 2 stitches.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
