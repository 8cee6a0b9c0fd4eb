package frame

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"strandwise/cmd/document"
	"strandwise/store"
)

// Show prints a document, the answer of a command. The first line that tells what was done
// names the piece where that does not go without saying.
func (a *App) Show(d document.Document) error {
	for i, b := range d.Blocks {
		if line, is := b.(document.Line); is && line.Extra && a.about != "" && line.Text.String() != "" && !line.Text[0].Whole {
			if !strings.Contains(line.Text.String(), a.about) {
				line.Text = append(document.Named(a.about, ": "), line.Text...)
				d.Blocks[i] = line
			}
			a.about = ""
		}
	}
	return document.Write(a.Out, d, a.Display())
}

// Say tells what a change did and the likely next command, unless the knitter
// asked for quiet or for JSON. Either may be empty.
func (a *App) Say(changed, next string) { a.Did(document.Words(changed), next) }

// Did is Say with names in it.
func (a *App) Did(changed document.Text, next string) {
	if !a.Flags.JSON {
		_ = a.Show(document.Document{Blocks: []document.Block{document.Act(changed), document.Next(next)}}) // a.Out keeps the error
	}
}

// Tell prints a document on stderr.
func (a *App) Tell(d document.Document) {
	_, look := a.looks()
	_ = document.Write(a.Err, d, look)
}

// Notice prints a paragraph on stderr.
func (a *App) Notice(format string, args ...any) {
	text := document.Named("strandwise", ": "+fmt.Sprintf(format, args...))
	a.Tell(document.Document{Blocks: []document.Block{document.Line{Text: text}}})
}

// Warn shows what the store found amiss though the work went on, each once in a run.
func (a *App) Warn(warnings []store.Warning) {
	for _, w := range warnings {
		if !slices.Contains(a.warned, w.Text) {
			a.warned = append(a.warned, w.Text)
			a.Notice("%s", w.Text)
		}
	}
}

// Try prints what to do about an error, a hint a line.
func (a *App) Try(hints ...string) {
	for _, hint := range hints {
		fmt.Fprintf(a.Err, "  try: %s\n", hint)
	}
}

// InShell is a name as it is typed at a shell: in quotation marks where it has more than
// letters, digits and dashes.
func InShell(name string) string {
	if !strings.ContainsFunc(name, special) {
		return name
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, `$`, `\$`, "`", "\\`").Replace(name) + `"`
}

// special reports whether a shell may read a character otherwise than it stands.
func special(r rune) bool {
	return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-_.:@/,+%=", r)
}
