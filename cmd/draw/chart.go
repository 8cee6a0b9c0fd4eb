package draw

import (
	"fmt"
	"math"

	"strandwise/chart"
	"strandwise/session"
)

// Drawing says how a chart is drawn, in whole pixels, so that the colors of a cell are exact to its edge.
type Drawing struct {
	CellWidth, CellHeight int  // of one stitch, at least 1
	Lines                 bool // between the stitches, heavier at every fifth
	Numbers               bool // of rows and columns, the names of the yarns, the signs of shaped stitches
	Flat                  bool // even rows are numbered at the left, where they begin
}

// CellFor is the size of a stitch in pixels, so wide and with the true shape at a gauge; the height is rounded.
func CellFor(wide int, stitchWidth, rowHeight float64) (width, height int) {
	return wide, max(1, int(math.Round(float64(wide)*rowHeight/stitchWidth)))
}

const (
	letter = 11 // pixels
	pad    = 6  // around letters
)

// Chart draws a chart on pixels: without numbers nothing but stitches, and transparent where there is none.
func Chart(c *chart.Chart, d Drawing) *Scene {
	columns, rows := chart.Counted(c.Width(), "column"), chart.Counted(c.Height(), "row")
	g := &grid{
		Scene: &Scene{
			Name: c.ShownTitle(), Description: fmt.Sprintf("A chart of %s and %s, column 1 at the right.", columns, rows),
			Pixels: true, Clear: !d.Numbers,
		},
		yarns: c.Yarns, fabric: rowsOf(c.Height(), c.Cells, d.Flat), win: window{1, c.Height(), 0, c.Width() - 1},
		cell: Point{float64(d.CellWidth), float64(d.CellHeight)}, pen: 1.5,
	}
	gutter := float64(len(fmt.Sprint(c.Height()))*letter*2/3 + 2*pad) // for row numbers
	if d.Numbers {
		g.left, g.top = gutter, pad
	}
	g.Width, g.Height = g.left+g.bodyWidth(), g.top+g.bodyHeight()
	g.layered(g.stitches, "stitches")
	if d.Lines {
		g.lines()
	}
	if d.Numbers {
		g.signs()
		g.chartNumbers()
		g.Width += gutter
		g.Height += letter + 2*pad
		g.chartLegend()
	}
	return g.Scene
}

// chartNumbers sets row numbers where the rows begin, and that of every fifth column below; fewer where there
// is no room. Small letters on pixels are full black.
func (g *grid) chartNumbers() {
	step := numberStep(g.cell.Y, letter+2)
	for row, r := range g.rows() {
		x, align := g.Width+pad, Start
		if r.FromLeft {
			x, align = g.left-pad, End
		}
		if row == 1 || row%step == 0 {
			g.rowNumber(row, x, letter, align).Fill = &fullBlack
		}
	}
	columns := g.win.columns()
	step = max(5, numberStep(g.cell.X, float64(len(fmt.Sprint(columns))*letter)))
	for column := 1; column <= columns; column++ {
		if column == 1 || column%step == 0 {
			at := Point{g.x(float64(column) - 0.5), g.Height + pad + letter}
			g.text("number", at, letter, Middle, fmt.Sprint(column), &fullBlack)
		}
	}
}

func (g *grid) chartLegend() {
	line := func(text string) {
		x := g.left + 2*letter + pad
		g.text("legend", Point{x, g.Height + letter}, letter, Start, text, &fullBlack)
		g.Width = max(g.Width, x+float64(len([]rune(text))*letter*7/10+pad))
		g.Height += letter + pad
	}
	for i, y := range g.yarns {
		g.box("legend", Point{g.left, g.Height + 1}, 2*letter, letter, Ink{Fill: ruleGrays[true]})
		g.box("legend", Point{g.left + 1, g.Height + 2}, 2*letter-2, letter-2, Ink{Fill: &g.yarns[i].Color})
		line(string(y.Symbol) + "  " + y.Name)
	}
	g.cell = Point{letter * 1.2, letter * 1.2}
	used, _ := g.techniques()
	for _, t := range used {
		g.sign(t, Point{g.left, g.Height}, &fullBlack)
		line(t.String())
	}
	g.Height += pad
}

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
		yarns: p.Layout.Fabric.Yarns, fabric: rowsOf(len(m.Cells), func(row int) []chart.Cell { return m.Cells[row-1] }, false), win: window{1, len(m.Cells), 0, wide - 1},
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
