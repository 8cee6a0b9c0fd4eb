package document

import (
	"fmt"
	"strings"

	"strandwise/chart"
)

// Alike tells which of the yarns look the same on this terminal, which has one color for both,
// and how to tell them apart; empty where none do.
func Alike(l Look, yarns []chart.Yarn) string {
	colors := make([]chart.Color, len(yarns))
	for i, y := range yarns {
		colors[i] = y.Color
	}
	var pairs []string
	for _, p := range l.Paint.Collide(colors) {
		a, b := yarns[p[0]], yarns[p[1]]
		pairs = append(pairs, fmt.Sprintf("%s (%c) and %s (%c)", a.Name, a.Symbol, b.Name, b.Symbol))
	}
	if len(pairs) == 0 {
		return ""
	}
	return "the same color on this terminal: " + strings.Join(pairs, "; ") + "; go by the symbols"
}
