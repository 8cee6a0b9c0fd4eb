package cmd

import (
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/render"
)

// look is how the answer appears on stdout.
func look(a *frame.App) render.Look {
	return render.Look{Paint: a.Display.Paint, Marks: a.Display.Marks, Width: a.Display.Width, Plain: a.Display.Plain}
}

// words is an answer that people read too.
type words interface{ Document() document.Document }

// write prints an answer, of schema 1: its JSON where a program asks, else its document.
func write(a *frame.App, answer words) error {
	switch {
	case a.Flags.JSON:
		return a.AnswerJSON(1, answer)
	case a.Display.Plain:
		return document.WritePlain(a.Out, answer.Document())
	}
	look := document.Look{Paint: a.Display.Paint, Marks: a.Display.Marks, Width: a.Display.Width}
	return document.WriteText(a.Out, answer.Document(), look)
}
