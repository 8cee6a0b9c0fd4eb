package cmd

import (
	"strandwise/cmd/frame"
	"strandwise/cmd/render"
	"strandwise/session"
)

// look is how the answer appears on stdout.
func look(a *frame.App) render.Look {
	return render.Look{Paint: a.Display().Paint, Marks: a.Display().Marks, Width: a.Display().Width, Plain: a.Display().Plain}
}

// printSheet prints the sheet of a row.
func printSheet(a *frame.App, s *session.Sheet, o render.SheetOptions) error {
	return render.Sheet(a.Out, s, look(a), o)
}
