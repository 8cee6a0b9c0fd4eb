package chart

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// SymbolRule is what a symbol may be, as a hint.
const SymbolRule = "a symbol is one visible character, no digit and none of , : @ #"

// blankLetters are characters that count as letters or signs and yet show nothing.
var blankLetters = []rune{0x115F, 0x1160, 0x2800, 0x3164, 0xFFA0}

// lookalikes are easily taken for one another; the case of a letter needs no entry.
var lookalikes = []string{
	".·•․∙⋅", "x×✕✖⨯хχ", "oо०ο○◯", "-–—−‐‑", "_‗＿", "*∗✱＊", "+＋✚", "/∕⁄／", "\\＼∖", "|│∣｜lIі", "^ˆ＾", "aа", "eе", "cс", "pр",
}

// CheckSymbol returns an error that says why r cannot be a symbol, or nil.
func CheckSymbol(r rune) error {
	switch {
	case unicode.IsDigit(r):
		return fmt.Errorf("the digit %c cannot be a symbol", r)
	case strings.ContainsRune(",:@#", r):
		return fmt.Errorf("%q cannot be a symbol", string(r))
	case unicode.IsSpace(r):
		return fmt.Errorf("a blank cannot be a symbol")
	case unicode.IsMark(r):
		return fmt.Errorf("the accent %U cannot be a symbol by itself", r)
	case !unicode.IsGraphic(r), r == unicode.ReplacementChar, width.RuneWidth(r) == 0, slices.Contains(blankLetters, r):
		return fmt.Errorf("the invisible character %U cannot be a symbol", r)
	}
	return nil
}

// NearestSymbol is the declared symbol of the other case than r or a look-alike; 0 for none.
func NearestSymbol(r rune, declared []rune) rune {
	for _, d := range declared {
		alike := func(group string) bool { return strings.ContainsRune(group, d) && strings.ContainsRune(group, r) }
		if d != r && (unicode.ToLower(d) == unicode.ToLower(r) || slices.ContainsFunc(lookalikes, alike)) {
			return d
		}
	}
	return 0
}

func spoken(symbols []rune) string {
	words := make([]string, len(symbols))
	for i, r := range symbols {
		words[i] = string(r)
	}
	return strings.Join(words, " ")
}

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
