package draw

import (
	"fmt"

	"strandwise/chart"
	"strandwise/session"
)

// A stitch without catches would be the first, one with the most there are the second; what lies between is mixed by its
// share of the most.
var coolest, hottest = chart.Color{R: 0xFF, G: 0xE3, B: 0x8A}, chart.Color{R: 0x8B, G: 0x00, B: 0x26}

// Heat draws a chart with how many catches were made on each stitch, the darker the more, in a rim of its yarn.
func Heat(p *session.Piece, m session.HeatMap) *Scene {
	wide := 1
	for _, cells := range m.Cells {
		wide = max(wide, len(cells))
	}
	_, _, most := m.Hottest()
	const size = usualCell * 0.5
	g := grid{
		Scene: &Scene{
			Name:        fmt.Sprintf("Catches on %s", m.Part),
			Description: fmt.Sprintf("The chart of %s with how many catches were made on each stitch, at most %d.", m.Part, most),
		},
		yarns: p.Layout.Fabric.Yarns, row: rowsOf(m.Cells, false), win: window{1, len(m.Cells), 0, wide - 1},
		cell: Point{usualCell, usualCell}, left: usualCell * 1.5, top: size * 3, pen: usualCell * 0.08, empty: &pale,
	}
	g.Width, g.Height = max(leastWidth, g.bodyWidth()+2*g.left), g.top+g.bodyHeight()+1
	g.label("title", Point{g.left, size * 1.6}, size*1.3, Start, g.Name).Bold = true
	g.stitches()
	g.lines()
	for row := range g.rows() {
		for c, n := range m.Rows[row-1] {
			if n > 0 {
				at, color := g.corner(row, c), mixed(coolest, hottest, float64(n)/float64(most))
				g.box("catches", at.plus(g.cell.X*0.12, g.cell.Y*0.12), g.cell.X*0.76, g.cell.Y*0.76, Ink{Fill: &color},
					Datum{"row", fmt.Sprint(row)}, Datum{"column", fmt.Sprint(c + 1)}, Datum{"catches", fmt.Sprint(n)})
				tall := min(g.cell.Y*0.55, g.cell.X*1.1/float64(len(fmt.Sprint(n))), g.cell.X*0.5)
				at = at.plus(g.cell.X/2, g.cell.Y/2+tall*0.36)
				g.text("count", at, tall, Middle, fmt.Sprint(n), against(color))
			}
		}
		g.rowNumber(row, g.left-size*0.5, size, End)
	}
	return g.Scene
}
