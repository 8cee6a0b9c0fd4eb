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

// quiet writes a text that steps back.
func (p *page) quiet(format string, args ...any) {
	p.text("", fmt.Sprintf(format, args...), p.look.Paint.Quiet)
}

// say writes a text as it is.
func (p *page) say(format string, args ...any) { p.text("", fmt.Sprintf(format, args...), nil) }

// sentence writes a text that begins with a capital and ends with a stop.
func (p *page) sentence(format string, args ...any) {
	p.text("", sentence(fmt.Sprintf(format, args...)), nil)
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

// listed joins words as a sentence does: a, b and c.
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	end := len(words) - 1
	return strings.Join(words[:end], ", ") + " and " + words[end]
}

// numbersOf joins numbers as a sentence does: 3, 9 and 15.
func numbersOf(list []int) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = fmt.Sprint(n)
	}
	return listed(words)
}

// counted is a number with its noun: 1 stitch, 2 stitches.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
