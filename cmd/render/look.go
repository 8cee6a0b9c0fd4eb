// Package render writes domain values out as text and pictures. It takes values
// and an io.Writer, asks nothing and never opens the store.
package render

import "strandwise/cmd/paint"

// Look is how text is to look on one stream.
type Look struct {
	Paint *paint.Painter
	Marks paint.Marks
	Width int  // columns, at least 1
	Plain bool // sentences for a screen reader: no columns, no signs
}
