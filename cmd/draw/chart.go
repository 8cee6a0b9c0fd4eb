package draw

import (
	"fmt"
	"math"

	"strandwise/chart"
	"strandwise/floats"
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

// letter is the size of letters in pixels, pad what is left free around them.
const (
	letter = 11
	pad    = 6
)

// chartMaker draws a chart.
type chartMaker struct {
	grid
	c *chart.Chart
	d Drawing
}

// Chart draws a chart on pixels. Without numbers it is nothing but stitches, and a place without
// one stays transparent.
func Chart(c *chart.Chart, d Drawing) *Scene {
	m := &chartMaker{c: c, d: d, grid: grid{
		Scene: &Scene{
			Name: c.ShownTitle(), Description: fmt.Sprintf("A chart of %s and %s, column 1 at the right.", plural(c.Width(), "column", "columns"), plural(c.Height(), "row", "rows")),
			Pixels: true, Clear: !d.Numbers,
		},
		yarns: c.Yarns, win: window{1, c.Height(), 0, c.Width() - 1}, cell: Point{float64(d.CellWidth), float64(d.CellHeight)}, pen: 1.5,
	}}
	rows := make([]floats.Row, c.Height())
	for i := range rows {
		rows[i].Course = floats.NewCourse(c.Cells(i+1), d.Flat && i%2 == 1)
	}
	m.row = func(n int) *floats.Row { return &rows[n-1] }
	if d.Numbers {
		m.left, m.top = m.gutter(), pad
	}
	m.Width, m.Height = m.left+m.bodyWidth(), m.top+m.bodyHeight()
	m.grouped(m.stitches, "stitches")
	if d.Lines {
		m.lines()
	}
	if d.Numbers {
		m.signs()
		m.numbers()
		m.Width += m.gutter()
		m.Height += letter + 2*pad
		m.legend()
	}
	return m.Scene
}

// write writes a text in full black, as small letters on pixels need.
func (m *chartMaker) write(class string, x, y float64, align Align, text string) {
	m.text(class, Point{x, y}, letter, align, text, false, &fullBlack)
}

// gutter is the room for row numbers.
func (m *chartMaker) gutter() float64 {
	return float64(len(fmt.Sprint(m.c.Height()))*letter*2/3 + 2*pad)
}

// numbers sets the row numbers where the rows begin, and the number of every fifth column below;
// fewer where there is no room.
func (m *chartMaker) numbers() {
	step := numberStep(m.cell.Y, letter+2)
	m.eachRow(func(row int, r *floats.Row) {
		x, align := m.Width+pad, Start
		if r.FromLeft {
			x, align = m.left-pad, End
		}
		if row == 1 || row%step == 0 {
			m.write("number", x, m.y(row)+m.cell.Y/2+letter*0.36, align, fmt.Sprint(row))
		}
	})
	step = max(5, numberStep(m.cell.X, float64(len(fmt.Sprint(m.c.Width()))*letter)))
	for column := 1; column <= m.c.Width(); column++ {
		if column == 1 || column%step == 0 {
			m.write("number", m.x(float64(column)-0.5), m.Height+pad+letter, Middle, fmt.Sprint(column))
		}
	}
}

// numberStep is how many stitches further the next number stands, for a number of that size to have
// room: all have one, or those of whole fives.
func numberStep(cell, size float64) int {
	if cell >= size {
		return 1
	}
	return int(math.Ceil(size/cell/5)) * 5
}

// legend names the yarns and the signs below the chart, each on its line.
func (m *chartMaker) legend() {
	for i, y := range m.yarns {
		m.box("legend", m.left, m.Height+1, 2*letter, letter, Ink{Fill: ruleGrays[true]})
		m.box("legend", m.left+1, m.Height+2, 2*letter-2, letter-2, Ink{Fill: &m.yarns[i].Color})
		m.legendLine(string(y.Symbol) + "  " + y.Name)
	}
	m.cell = Point{letter * 1.2, letter * 1.2}
	used, _ := m.techniques()
	for _, t := range used {
		m.sign(t, Point{m.left, m.Height}, &fullBlack)
		m.legendLine(t.String())
	}
	m.Height += pad
}

func (m *chartMaker) legendLine(text string) {
	x := m.left + 2*letter + pad
	m.write("legend", x, m.Height+letter, Start, text)
	m.Width = max(m.Width, x+float64(len([]rune(text))*letter*7/10+pad))
	m.Height += letter + pad
}
