package draw

import (
	"fmt"
	"io"
	"strings"

	"strandwise/cmd/paint"
)

// lines writes lines of text and remembers the first failed write.
type lines struct {
	w    io.Writer
	look paint.Look
	err  error
}

// line writes one finished line.
func (l *lines) line(text string) {
	if l.err == nil {
		_, l.err = io.WriteString(l.w, strings.TrimRight(text, " ")+"\n")
	}
}

// say writes a text broken between words; set is how its lines look, or nil.
func (l *lines) say(text string, set func(string) string) {
	for _, line := range paint.Wrap("", paint.Spans(strings.Fields(text)...), l.look.Width) {
		if set != nil {
			line = set(line)
		}
		l.line(line)
	}
}

// plural is a count with its noun: "1 catch", "3 catches"; none is "no catches".
func plural(n int, noun, many string) string {
	switch n {
	case 0:
		return "no " + many
	case 1:
		return "1 " + noun
	}
	return fmt.Sprintf("%d %s", n, many)
}

// listed joins numbers as a sentence does: 3, 9 and 15.
func listed(numbers []int) string {
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = fmt.Sprint(n)
	}
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	end := len(words) - 1
	return strings.Join(words[:end], ", ") + " and " + words[end]
}
