package cmd

import "strandwise/cmd/render"

// look is how the answer appears on stdout.
func (a *app) look() render.Look {
	return render.Look{Paint: a.display.paint, Marks: a.display.marks, Width: a.display.width, Plain: a.display.plain}
}
