package chart

import (
	"pgregory.net/rapid"
)

// randomChart draws valid charts: one to four yarns, some with stitches, empty
// cells, a declared background and comments, up to 12 by 12.
func randomChart(t *rapid.T) *Chart {
	symbols := rapid.Permutation([]rune(".xo=/\\*日é·_&")).Draw(t, "symbols")
	take := func() rune { s := symbols[0]; symbols = symbols[1:]; return s }
	c := &Chart{
		Comments: rapid.SliceOfN(rapid.SampledFrom([]string{"", " tide table", "  two blanks", "# twice", " ÷ 12"}), 0, 3).Draw(t, "comments"),
		Title:    rapid.SampledFrom([]string{"", "Harbour lights", "Pier: 12 steps", "灯台"}).Draw(t, "title"),
	}
	names := rapid.Permutation([]string{"oat", "fjord", "deep sea", "moss #2", "日の出"}).Draw(t, "names")
	for i := range rapid.IntRange(1, 4).Draw(t, "yarns") {
		c.Yarns = append(c.Yarns, Yarn{take(), names[i], randomColor(t)})
	}
	for range rapid.IntRange(0, 3).Draw(t, "stitches") {
		yarn := rapid.SampledFrom(c.Yarns).Draw(t, "stitch yarn")
		technique := Technique(rapid.IntRange(0, len(techniques)-1).Draw(t, "technique"))
		c.Stitches = append(c.Stitches, StitchSymbol{take(), yarn.Symbol, technique})
	}
	if rapid.Bool().Draw(t, "has empty") {
		c.Empty = take()
	}
	if n := rapid.IntRange(0, len(c.Yarns)).Draw(t, "backgrounds"); n > 0 {
		for _, y := range c.Yarns[:n] {
			c.Background = append(c.Background, y.Symbol)
		}
	}
	c.Rows = randomRows(t, c)
	return c
}

func randomRows(t *rapid.T, c *Chart) [][]rune {
	var worked []rune
	for _, y := range c.Yarns {
		worked = append(worked, y.Symbol)
	}
	for _, s := range c.Stitches {
		worked = append(worked, s.Symbol)
	}
	cells := worked
	if c.Empty != 0 {
		cells = append(append([]rune{}, worked...), c.Empty)
	}
	width := rapid.IntRange(1, 12).Draw(t, "width")
	rows := make([][]rune, rapid.IntRange(1, 12).Draw(t, "height"))
	for i := range rows {
		rows[i] = rapid.SliceOfN(rapid.SampledFrom(cells), width, width).Draw(t, "row")
		if c.Empty != 0 && allEmpty(rows[i], c.Empty) {
			rows[i][0] = worked[0]
		}
	}
	return rows
}

func randomColor(t *rapid.T) Color {
	channel := rapid.Uint8()
	return Color{channel.Draw(t, "red"), channel.Draw(t, "green"), channel.Draw(t, "blue")}
}
