package draw

import (
	"fmt"
	"math"

	"strandwise/chart"
)

// Drawing says how a chart is drawn as a picture. Lengths are in pixels, whole ones,
// so that the colors of a cell are exact to its edge.
type Drawing struct {
	CellWidth, CellHeight int  // of one stitch, at least 1
	Lines                 bool // between the stitches, heavier at every fifth
	Numbers               bool // of rows and columns, the names of the yarns, the signs of shaped stitches
	Flat                  bool // even rows are numbered at the left, where they begin
}

// CellFor is the size of a stitch in pixels with the true shape at a gauge: wide is
// its width, and the height is rounded to a whole pixel.
func CellFor(wide int, stitchWidth, rowHeight float64) (width, height int) {
	return wide, max(1, int(math.Round(float64(wide)*rowHeight/stitchWidth)))
}

// The parts of a picture of a chart, in the order they are painted. Coordinates are
// from the upper left corner.
type (
	chartTile struct {
		x, y, w, h int
		color      chart.Color
	}
	chartStroke struct {
		x1, y1, x2, y2, width float64
		color                 chart.Color
	}
	chartLabel struct {
		x, y   float64 // of the baseline, at the anchor
		text   string
		anchor string // start, middle or end
		size   float64
	}
)

// chartScene is a picture of a chart as shapes, for every writer alike.
type chartScene struct {
	width, height int
	title         string
	bare          bool // nothing but stitches: the rest stays transparent
	tiles         []chartTile
	strokes       []chartStroke
	labels        []chartLabel
}

// The grays of lines and letters.
var (
	lineGray  = chart.Color{R: 0x8C, G: 0x8C, B: 0x8C}
	fifthGray = chart.Color{R: 0x40, G: 0x40, B: 0x40}
)

// letter is the size of letters in pixels; pad what is left free around them.
const (
	letter = 11
	pad    = 6
)

// chartMaker fills a scene.
type chartMaker struct {
	chartScene
	c             *chart.Chart
	d             Drawing
	left, top     int // where the stitches begin
	right, bottom int // and end
}

// sceneOf draws a chart as shapes.
func sceneOf(c *chart.Chart, d Drawing) *chartScene {
	m := &chartMaker{c: c, d: d}
	m.title, m.bare = c.Title, !d.Numbers
	if d.Numbers {
		m.left, m.top = m.gutter(), pad
	}
	m.right, m.bottom = m.left+c.Width()*d.CellWidth, m.top+c.Height()*d.CellHeight
	m.width, m.height = m.right, m.bottom
	m.stitches()
	if d.Lines {
		m.lines()
	}
	if d.Numbers {
		m.width += m.gutter()
		m.height += letter + 2*pad
		m.signs()
		m.numbers()
		m.legend()
	}
	return &m.chartScene
}

// gutter is the room for row numbers.
func (m *chartMaker) gutter() int {
	return len(fmt.Sprint(m.c.Height()))*letter*2/3 + 2*pad
}

// corner is the upper left corner of a cell; both count from 1 as in the chart.
func (m *chartMaker) corner(row, column int) (x, y int) {
	return m.right - column*m.d.CellWidth, m.bottom - row*m.d.CellHeight
}

func (m *chartMaker) stitches() {
	for row := 1; row <= m.c.Height(); row++ {
		for i, cell := range m.c.Cells(row) {
			if cell.IsEmpty() {
				continue
			}
			x, y := m.corner(row, i+1)
			m.tiles = append(m.tiles, chartTile{x, y, m.d.CellWidth, m.d.CellHeight, m.c.Yarns[cell.Yarn].Color})
		}
	}
}

// lines lie on the right and lower edge of the cells they follow, one pixel wide;
// the outermost ones frame the chart. Every fifth counts from column 1 and row 1.
func (m *chartMaker) lines() {
	for column := 0; column <= m.c.Width(); column++ {
		x := min(max(m.left, m.right-column*m.d.CellWidth-1), m.right-1)
		if column == m.c.Width() {
			x = m.left
		}
		m.tiles = append(m.tiles, chartTile{x, m.top, 1, m.bottom - m.top, shade(column)})
	}
	for row := 0; row <= m.c.Height(); row++ {
		y := m.bottom - row*m.d.CellHeight - 1
		if row == m.c.Height() {
			y = m.top
		}
		m.tiles = append(m.tiles, chartTile{m.left, y, m.right - m.left, 1, shade(row)})
	}
}

func shade(n int) chart.Color {
	if n%5 == 0 {
		return fifthGray
	}
	return lineGray
}

// signs are drawn on the stitches that are no plain knit stitch, in black or white.
func (m *chartMaker) signs() {
	for row := 1; row <= m.c.Height(); row++ {
		for i, cell := range m.c.Cells(row) {
			if cell.IsEmpty() || cell.Technique == chart.Knit {
				continue
			}
			x, y := m.corner(row, i+1)
			ink := inkOn(m.c.Yarns[cell.Yarn].Color)
			for _, s := range signs[cell.Technique] {
				m.strokes = append(m.strokes, chartStroke{
					float64(x) + s[0]*float64(m.d.CellWidth), float64(y) + s[1]*float64(m.d.CellHeight),
					float64(x) + s[2]*float64(m.d.CellWidth), float64(y) + s[3]*float64(m.d.CellHeight), 1.5, ink,
				})
			}
		}
	}
}

// inkOn is black or white, whichever stands out more.
func inkOn(c chart.Color) chart.Color {
	white := chart.Color{R: 255, G: 255, B: 255}
	if chart.ContrastRatio(c, white) > chart.ContrastRatio(c, chart.Color{}) {
		return white
	}
	return chart.Color{}
}

func (m *chartMaker) numbers() {
	every := max(1, int(math.Ceil(float64(letter+2)/float64(m.d.CellHeight))))
	for row := 1; row <= m.c.Height(); row++ {
		if every > 1 && row%5 != 0 && row != 1 || every > 5 && row%(every/5*5) != 0 && row != 1 {
			continue
		}
		_, y := m.corner(row, 1)
		l := chartLabel{float64(m.right + pad), float64(y) + float64(m.d.CellHeight)/2 + letter*0.36, fmt.Sprint(row), "start", letter}
		if m.d.Flat && row%2 == 0 {
			l.x, l.anchor = float64(m.left-pad), "end"
		}
		m.labels = append(m.labels, l)
	}
	step := 5
	for step*m.d.CellWidth < len(fmt.Sprint(m.c.Width()))*letter {
		step += 5
	}
	for column := step; column <= m.c.Width(); column += step {
		m.columnNumber(column)
	}
	m.columnNumber(1)
}

func (m *chartMaker) columnNumber(column int) {
	x, _ := m.corner(1, column)
	m.labels = append(m.labels, chartLabel{float64(x) + float64(m.d.CellWidth)/2, float64(m.bottom + pad + letter), fmt.Sprint(column), "middle", letter})
}

// legend names the yarns and the signs below the chart, each on its line.
func (m *chartMaker) legend() {
	for _, y := range m.c.Yarns {
		m.tiles = append(m.tiles, chartTile{m.left, m.height + 1, 2 * letter, letter, fifthGray},
			chartTile{m.left + 1, m.height + 2, 2*letter - 2, letter - 2, y.Color})
		m.legendLine(string(y.Symbol) + "  " + y.Name)
	}
	for _, t := range m.techniques() {
		for _, s := range signs[t] {
			m.strokes = append(m.strokes, chartStroke{
				float64(m.left) + s[0]*letter*1.2, float64(m.height) + s[1]*letter*1.2,
				float64(m.left) + s[2]*letter*1.2, float64(m.height) + s[3]*letter*1.2, 1.5,
				chart.Color{},
			})
		}
		m.legendLine(t.String())
	}
	m.height += pad
}

func (m *chartMaker) legendLine(text string) {
	l := chartLabel{float64(m.left + 2*letter + pad), float64(m.height + letter), text, "start", letter}
	m.labels = append(m.labels, l)
	m.width = max(m.width, int(l.x)+len([]rune(text))*letter*7/10+pad)
	m.height += letter + pad
}

// techniques lists those in use that have a sign.
func (m *chartMaker) techniques() []chart.Technique {
	var used []chart.Technique
	for _, t := range chart.Techniques() {
		if t != chart.Knit && m.uses(t) {
			used = append(used, t)
		}
	}
	return used
}

func (m *chartMaker) uses(t chart.Technique) bool {
	for row := 1; row <= m.c.Height(); row++ {
		for _, cell := range m.c.Cells(row) {
			if !cell.IsEmpty() && cell.Technique == t {
				return true
			}
		}
	}
	return false
}

// signs are the strokes of each technique in a cell of 1 by 1, from the upper left:
// a decrease leans as it does in the fabric, a double one has a second stroke, what
// adds a stitch opens upward.
var signs = [...][][4]float64{
	chart.Purl:  {{0.25, 0.5, 0.75, 0.5}},
	chart.Slip:  {{0.25, 0.3, 0.5, 0.75}, {0.5, 0.75, 0.75, 0.3}},
	chart.K2tog: {{0.25, 0.8, 0.75, 0.2}},
	chart.Ssk:   {{0.25, 0.2, 0.75, 0.8}},
	chart.K3tog: {{0.15, 0.8, 0.65, 0.2}, {0.35, 0.8, 0.85, 0.2}},
	chart.Sk2p:  {{0.15, 0.2, 0.65, 0.8}, {0.35, 0.2, 0.85, 0.8}},
	chart.Cdd:   {{0.2, 0.8, 0.5, 0.2}, {0.5, 0.2, 0.8, 0.8}, {0.5, 0.2, 0.5, 0.8}},
	chart.Yo:    {{0.5, 0.2, 0.75, 0.5}, {0.75, 0.5, 0.5, 0.8}, {0.5, 0.8, 0.25, 0.5}, {0.25, 0.5, 0.5, 0.2}},
	chart.M1:    {{0.5, 0.8, 0.5, 0.2}, {0.3, 0.45, 0.5, 0.2}, {0.5, 0.2, 0.7, 0.45}},
	chart.Kfb:   {{0.5, 0.8, 0.5, 0.5}, {0.5, 0.5, 0.25, 0.2}, {0.5, 0.5, 0.75, 0.2}},
}
