package cmd

import (
	"strandwise/cmd/document"
	"strandwise/cmd/render"
)

// look is how the answer appears on stdout.
func (a *app) look() render.Look {
	return render.Look{Paint: a.display.paint, Marks: a.display.marks, Width: a.display.width, Plain: a.display.plain}
}

// words is an answer that people read too.
type words interface{ Document() document.Document }

// write prints an answer, of schema 1: its JSON where a program asks, else its document.
func (a *app) write(answer words) error {
	switch {
	case a.flags.json:
		return a.answerJSON(1, answer)
	case a.display.plain:
		return document.WritePlain(a.out, answer.Document())
	}
	look := document.Look{Paint: a.display.paint, Marks: a.display.marks, Width: a.display.width}
	return document.WriteText(a.out, answer.Document(), look)
}
