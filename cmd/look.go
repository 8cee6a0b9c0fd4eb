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

// write prints a document as the answer.
func write(a *frame.App, d document.Document) error { return document.Write(a.Out, d, look(a)) }
