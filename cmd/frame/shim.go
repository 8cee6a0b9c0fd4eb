package frame

import (
	"fmt"
	"io"
	"strings"

	"strandwise/cmd/paint"
)

// Tell prints a paragraph of the answer, broken between words to fit the width.
func (a *App) Tell(format string, args ...any) { a.TellUnder("", format, args...) }

// TellUnder is Tell with a label before the first line and the rest set in as far.
func (a *App) TellUnder(label, format string, args ...any) {
	a.labeled(label, label, fmt.Sprintf(format, args...))
}

// WarnUnder is TellUnder for a warning: its label is marked as one.
func (a *App) WarnUnder(label, text string) {
	a.labeled(label, a.Display().Paint.Warn(label), text)
}

// labeled prints a paragraph; shown is the label with its colors. In plain text the
// label is a word before the rest, and nothing is set in or broken.
func (a *App) labeled(label, shown, text string) {
	if a.Display().Plain { // to be heard: a line is as long as what it says
		_, _ = io.WriteString(a.Out, plainLabel(label)+strings.Join(strings.Fields(text), " ")+"\n")
		return
	}
	indent := strings.Repeat(" ", paint.Width(label))
	for i, line := range paint.Wrap(indent, WordPieces(text), a.Display().Width) {
		if i == 0 {
			line = shown + line[len(indent):]
		}
		_, _ = io.WriteString(a.Out, line+"\n")
	}
}

// CurrentSign stands at the current piece.
const CurrentSign = "*"

// plainLabel is a label as it is said: the sign of the current piece is no word, and what
// is no sentence yet ends with a colon.
func plainLabel(label string) string {
	label = strings.TrimSpace(label)
	switch {
	case label == "" || label == CurrentSign:
		return ""
	case strings.HasSuffix(label, ":"):
		return label + " "
	}
	return label + ": "
}

// Sentence is Tell on another stream.
func (a *App) Sentence(w io.Writer, format string, args ...any) {
	if a.Display().Plain {
		fmt.Fprintln(w, strings.Join(strings.Fields(fmt.Sprintf(format, args...)), " "))
		return
	}
	for _, line := range paint.Wrap("", WordPieces(fmt.Sprintf(format, args...)), a.Display().Width) {
		fmt.Fprintln(w, line)
	}
}

// WordPieces parts a text into the words between which it may be wrapped.
func WordPieces(text string) []paint.Span { return paint.Spans(strings.Fields(text)...) }
