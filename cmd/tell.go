package cmd

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"strandwise/cmd/paint"
	"strandwise/store"
)

// tell prints a paragraph of the answer, broken between words to fit the width.
func (a *app) tell(format string, args ...any) { a.tellUnder("", format, args...) }

// tellUnder is tell with a label before the first line and the rest set in as far.
func (a *app) tellUnder(label, format string, args ...any) {
	a.labelled(label, label, fmt.Sprintf(format, args...))
}

// warnUnder is tellUnder for a warning: its label is marked as one.
func (a *app) warnUnder(label, text string) {
	a.labelled(label, a.display.paint.Warn(label), text)
}

// labelled prints a paragraph; shown is the label with its colors. In plain text the
// label is a word before the rest, and nothing is set in.
func (a *app) labelled(label, shown, text string) {
	if a.display.plain {
		label = plainLabel(label)
		shown, text, label = "", label+text, ""
	}
	indent := strings.Repeat(" ", paint.Width(label))
	for i, line := range paint.Wrap(indent, paint.Spans(strings.Fields(text)...), a.display.width) {
		if i == 0 {
			line = shown + line[len(indent):]
		}
		_, _ = io.WriteString(a.out, line+"\n")
	}
}

// plainLabel is a label as it is said: the sign of the current piece is no word, and what
// is no sentence yet ends with a colon.
func plainLabel(label string) string {
	label = strings.TrimSpace(label)
	switch {
	case label == "" || label == currentSign:
		return ""
	case strings.HasSuffix(label, ":"):
		return label + " "
	}
	return label + ": "
}

// caution prints a paragraph on stderr, for what the knitter should know though the
// command went well.
func (a *app) caution(format string, args ...any) {
	words := paint.Spans(strings.Fields("strandwise: " + fmt.Sprintf(format, args...))...)
	for _, line := range paint.Wrap("", words, a.display.width) {
		fmt.Fprintln(a.err, line)
	}
}

// currentSign stands at the piece the commands are about.
const currentSign = "*"

// prose prints a sentence or more, wrapped to the width.
func (a *app) prose(format string, args ...any) {
	a.sentence(a.out, format, args...)
}

// sentence is prose on another stream.
func (a *app) sentence(w io.Writer, format string, args ...any) {
	for _, line := range paint.Wrap("", wordPieces(fmt.Sprintf(format, args...)), a.display.width) {
		fmt.Fprintln(w, line)
	}
}

// wordPieces parts a text into the words between which it may be wrapped.
func wordPieces(text string) []paint.Span { return paint.Spans(strings.Fields(text)...) }

// warn shows what the store found amiss though the work went on, each once in a run.
func (a *app) warn(warnings []store.Warning) {
	for _, w := range warnings {
		if !slices.Contains(a.warned, w.Text) {
			a.warned = append(a.warned, w.Text)
			a.sentence(a.err, "strandwise: %s", w.Text)
		}
	}
}
