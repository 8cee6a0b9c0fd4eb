package cmd

import (
	"fmt"
	"io"
	"strings"

	"strandwise/cmd/paint"
)

// tell prints a paragraph of the answer, broken between words to fit the width.
func (a *app) tell(format string, args ...any) { a.tellUnder("", format, args...) }

// tellUnder is tell with a label before the first line and the rest set in as far.
func (a *app) tellUnder(label, format string, args ...any) {
	indent := strings.Repeat(" ", paint.Width(label))
	words := paint.Pieces(strings.Fields(fmt.Sprintf(format, args...))...)
	for i, line := range paint.Wrap(indent, words, a.display.width) {
		if i == 0 {
			line = label + line[len(indent):]
		}
		_, _ = io.WriteString(a.out, line+"\n")
	}
}

// caution prints a paragraph on stderr, for what the knitter should know though the
// command went well.
func (a *app) caution(format string, args ...any) {
	words := paint.Pieces(strings.Fields("strandwise: " + fmt.Sprintf(format, args...))...)
	for _, line := range paint.Wrap("", words, a.display.width) {
		fmt.Fprintln(a.err, line)
	}
}
