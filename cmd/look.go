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
	return render.Look{Paint: a.Display().Paint, Marks: a.Display().Marks, Width: a.Display().Width, Plain: a.Display().Plain}
}

// printSheet prints the sheet of a row.
func printSheet(a *frame.App, s *session.Sheet, o answer.RowOptions) error {
	return write(a, answer.NewRow(s, o).Document())
}

// write prints a document as the answer.
func write(a *frame.App, d document.Document) error { return document.Write(a.Out, d, look(a)) }

// words is an answer that people read too.
type words interface{ Document() document.Document }

// give prints an answer of schema 1: its JSON where a program asks, else its document.
func give(a *frame.App, answer words) error {
	if a.Flags.JSON {
		return a.AnswerJSON(1, answer)
	}
	return write(a, answer.Document())
}
