package cmd

import (
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/render"
	"strandwise/session"
)

// look is how the answer appears on stdout.
func look(a *frame.App) render.Look {
	return a.Display().Look
}

// printSheet prints the sheet of a row.
func printSheet(a *frame.App, s *session.Sheet, o answer.RowOptions) error {
	return a.Show(answer.NewRow(s, o).Document())
}

// words is an answer that people read too.
type words interface{ Document() document.Document }

// write prints an answer: its JSON, of that schema, where a program asks, else its document.
func write(a *frame.App, schema int, answer words) error {
	if a.Flags.JSON {
		return a.AnswerJSON(schema, answer)
	}
	return a.Show(answer.Document())
}
