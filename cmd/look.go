package cmd

import (
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/session"
)

// look is how the answer appears on stdout.
func look(a *frame.App) document.Look {
	return document.Look{Paint: a.Display().Paint, Marks: a.Display().Marks, Width: a.Display().Width, Plain: a.Display().Plain}
}

// printSheet prints the sheet of a row.
func printSheet(a *frame.App, s *session.Sheet, o answer.RowOptions) error {
	return document.Write(a.Out, answer.NewRow(s, o).Document(), look(a))
}

// words is an answer that people read too.
type words interface{ Document() document.Document }

// write prints an answer: its JSON, of that schema, where a program asks, else its document.
func write(a *frame.App, schema int, answer words) error {
	if a.Flags.JSON {
		return a.AnswerJSON(schema, answer)
	}
	return document.Write(a.Out, answer.Document(), look(a))
}
