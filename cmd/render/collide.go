package render

import (
	"strandwise/chart"
)

// Few colors make one of two yarns. Then their symbols are all that tells them apart, so
// those of the later yarn are set bold and underlined, and the sheet says so.

// leaning lists by yarn whether this stream shows it in the color of one before it.
func leaning(look Look, yarns []chart.Yarn) []bool {
	leans := make([]bool, len(yarns))
	for _, pair := range colliding(look, yarns) {
		leans[pair[1]] = true
	}
	return leans
}

// colliding lists the pairs of yarns that this stream shows in one color, the lower index first.
func colliding(look Look, yarns []chart.Yarn) [][2]int {
	colors := make([]chart.Color, len(yarns))
	for i, y := range yarns {
		colors[i] = y.Color
	}
	return look.Paint.Collide(colors)
}

// yarnText sets text on the color of a yarn, by its index.
func yarnText(look Look, text string, yarn int, yarns []chart.Yarn, leans []bool) string {
	if leans[yarn] {
		return look.Paint.YarnApart(text, yarns[yarn].Color)
	}
	return look.Paint.Yarn(text, yarns[yarn].Color)
}
