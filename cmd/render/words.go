package render

import (
	"time"

	doc "strandwise/cmd/document"
)

// Spent is a time of knitting in words.
func Spent(d time.Duration) string { return doc.Spent(d) }

func dayTime(t time.Time) string { return doc.DayTime(t) }

func countOf(n int, noun string) string { return doc.Counted(n, noun) }

// Ranges writes ascending numbers with neighbors joined.
func Ranges(numbers []int) []string { return doc.Ranges(numbers) }
