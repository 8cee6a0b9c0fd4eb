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
	case !visible(r):
		return fmt.Errorf("the invisible character %U cannot be a symbol", r)
	}
	return nil
}

func visible(r rune) bool {
	return unicode.IsGraphic(r) && r != unicode.ReplacementChar &&
		width.RuneWidth(r) > 0 && !slices.Contains(blankLetters, r)
}

// NearestSymbol is the declared symbol of the other case than r or a look-alike; 0 for none.
func NearestSymbol(r rune, declared []rune) rune {
	for _, d := range declared {
		if d != r && (unicode.ToLower(d) == unicode.ToLower(r) || lookAlike(d, r)) {
			return d
		}
	}
	return 0
}

func lookAlike(a, b rune) bool {
	return slices.ContainsFunc(lookalikes, func(group string) bool {
		return strings.ContainsRune(group, a) && strings.ContainsRune(group, b)
	})
}

func spoken(symbols []rune) string {
	words := make([]string, len(symbols))
	for i, r := range symbols {
		words[i] = string(r)
	}
	return strings.Join(words, " ")
}
