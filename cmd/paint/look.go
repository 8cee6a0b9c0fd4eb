package paint

// Look is how text is to appear on one stream.
type Look struct {
	Paint *Painter
	Marks Marks
	Width int  // columns, at least 1
	Plain bool // sentences for a speech program: no columns, no marks, no color
	Quiet bool // without what was done and what comes next
}
