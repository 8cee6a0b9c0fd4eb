package chart

import "strings"

// Nearest returns the choice that word was most likely meant to be, or "" when
// none is close: at most one slip for every three characters, and one at least.
// Case does not count. Of two choices equally near the earlier wins.
func Nearest(word string, choices []string) string {
	typed := []rune(strings.ToLower(word))
	best, least := "", max(1, len(typed)/3)+1
	for _, choice := range choices {
		meant := []rune(strings.ToLower(choice))
		if d := slips(typed, meant); d < least && d < len(meant) {
			best, least = choice, d
		}
	}
	return best
}

// slips is the edit distance where a slip is a character added, left out, exchanged, or
// swapped with its neighbor (optimal string alignment), by the usual table, kept three rows deep.
func slips(a, b []rune) int {
	before, above, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range above {
		above[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			exchanged := above[j-1]
			if a[i-1] != b[j-1] {
				exchanged++
			}
			row[j] = min(exchanged, above[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, above, row = above, row, before
	}
	return above[len(b)]
}
