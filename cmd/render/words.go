package render

import (
	doc "strandwise/cmd/document"
)

func countOf(n int, noun string) string { return doc.Counted(n, noun) }

// Ranges writes ascending numbers with neighbors joined.
func Ranges(numbers []int) []string { return doc.Ranges(numbers) }
