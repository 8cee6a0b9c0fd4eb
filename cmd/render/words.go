package render

import (
	doc "strandwise/cmd/document"
)

func countOf(n int, noun string) string { return doc.Counted(n, noun) }
