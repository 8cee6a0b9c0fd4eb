package draw

import (
	"fmt"
	"iter"
	"math"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// window is the part that one picture shows: rows from 1 and columns from 0, both ends in.
type window struct{ rowFrom, rowTo, columnFrom, columnTo int }

func (w window) rows() int    { return w.rowTo - w.rowFrom + 1 }
func (w window) columns() int { return w.columnTo - w.columnFrom + 1 }

// grid is stitches in their places, the lowest layers of every picture. Column 1 is at the right, on the wrong side
// at the left; row 1 is at the bottom.
type grid struct {
	*Scene
	yarns     []chart.Yarn
	fabric    []floats.Row // index 0 is row 1
	win       window
	wrong     bool
	cell      Point        // width and height of a stitch as drawn
	left, top float64      // upper left corner of the stitches
	pen       float64      // width of the strokes of signs
	texture   bool         // yarns too alike in gray are told apart by ticks
	empty     *chart.Color // of a place without a stitch; nil leaves it out
}

// rowsOf are the rows of a chart, of flat work every second from the left.
func rowsOf(height int, cells func(row int) []chart.Cell, flat bool) []floats.Row {
	rows := make([]floats.Row, height)
	for i := range rows {
		rows[i].Course = floats.NewCourse(cells(i+1), flat && i%2 == 1)
	}
	return rows
}

// x is the place of edge c, which lies between columns c-1 and c, from 0; it takes fractions.
func (g *grid) x(edge float64) float64 {
	if g.wrong {
		return g.left + (edge-float64(g.win.columnFrom))*g.cell.X
	}
	return g.left + (float64(g.win.columnTo+1)-edge)*g.cell.X
}

func (g *grid) y(row int) float64 { return g.top + float64(g.win.rowTo-row)*g.cell.Y }

// run is the upper left corner of columns of a row from one up to another, and their width.
func (g *grid) run(row, from, to int) (Point, float64) {
	a, b := g.x(float64(from)), g.x(float64(to))
	return Point{min(a, b), g.y(row)}, math.Abs(b - a)
}

func (g *grid) corner(row, column int) Point {
	at, _ := g.run(row, column, column+1)
	return at
}

func (g *grid) bodyWidth() float64  { return float64(g.win.columns()) * g.cell.X }
func (g *grid) bodyHeight() float64 { return float64(g.win.rows()) * g.cell.Y }
func (g *grid) least() float64      { return min(g.cell.X, g.cell.Y) }

func (g *grid) row(n int) *floats.Row { return &g.fabric[n-1] }

func (g *grid) rows() iter.Seq2[int, *floats.Row] {
	return func(do func(int, *floats.Row) bool) {
		for row := g.win.rowFrom; row <= g.win.rowTo && do(row, g.row(row)); row++ {
			continue
		}
	}
}

func (g *grid) rowNumber(row int, x, size float64, align Align) *Shape {
	return g.label("number", Point{x, g.y(row) + g.cell.Y/2 + size*0.36}, size, align, fmt.Sprint(row))
}

// numberStep is how many stitches further the next number of a size has room: one, or whole fives.
func numberStep(cell, size float64) int {
	if cell >= size {
		return 1
	}
	return int(math.Ceil(size/cell/5)) * 5
}

func (g *grid) stitches() {
	ground := g.ground()
	for row, r := range g.rows() {
		end := min(g.win.columnTo+1, r.Columns())
		for c := g.win.columnFrom; c < end; {
			from, yarn := c, r.Cell(c).Yarn
			for c++; c < end && r.Cell(c).Yarn == yarn; c++ {
				continue
			}
			fill := g.empty
			if yarn != chart.NoYarn {
				fill = g.shown(yarn)
			}
			if at, width := g.run(row, from, c); fill != nil && yarn != ground {
				g.box("stitches", at, width, g.cell.Y, Ink{Fill: fill})
			}
			if g.wrong && yarn != chart.NoYarn && g.cell.X >= readableCell && !g.Compact {
				g.bumps(row, r, from, c)
			}
		}
	}
}

// ground draws the yarn of most stitches as one box behind all others and gives it, where the scene is compact and
// every row reaches across; else chart.NoYarn-1, which is none.
func (g *grid) ground() int {
	const none = chart.NoYarn - 1
	counts := make([]int, len(g.yarns))
	for _, r := range g.rows() {
		if !g.Compact || r.Columns() <= g.win.columnTo {
			return none
		}
		for c := g.win.columnFrom; c <= g.win.columnTo; c++ {
			if yarn := r.Cell(c).Yarn; yarn != chart.NoYarn {
				counts[yarn]++
			}
		}
	}
	most := slices.Index(counts, slices.Max(counts))
	g.box("ground", Point{g.left, g.top}, g.bodyWidth(), g.bodyHeight(), Ink{Fill: g.shown(most)})
	return most
}

// shown is a yarn's color: on the wrong side stitches step back behind the strands.
func (g *grid) shown(yarn int) *chart.Color {
	color := g.yarns[yarn].Color
	if g.wrong {
		color = mixed(white, color, 0.45)
	}
	return &color
}

// lines draws the lines between stitches, every fifth of a repeat and in a piece the outermost stronger, and the
// borders of repeats. Neighboring rows that fit share their lines.
func (g *grid) lines() {
	for row := g.win.rowFrom; row <= g.win.rowTo; {
		from, columns, borders := row, g.row(row).Columns(), g.row(row).Borders()
		for row++; row <= g.win.rowTo && g.row(row).Fits(g.row(from).Course); row++ {
			continue
		}
		first, end := g.x(float64(g.win.columnFrom)), min(columns, g.win.columnTo+1)
		upright := func(c int) []Point {
			x := g.x(float64(c))
			return []Point{{x, g.y(from - 1)}, {x, g.y(row - 1)}}
		}
		for _, strong := range []bool{false, true} {
			for c := g.win.columnFrom; c <= end; c++ {
				if (fifth(borders, c, columns) || c == end && !g.Pixels) == strong {
					g.rule(strong, upright(c))
				}
			}
			for r := from - 1; r < row; r++ {
				if (r%5 == 0 || r == row-1 && row > g.win.rowTo && !g.Pixels) == strong {
					g.rule(strong, []Point{{first, g.y(r)}, {g.x(float64(end)), g.y(r)}})
				}
			}
		}
		for _, c := range borders[1:] {
			if c >= g.win.columnFrom && c <= end {
				g.line("repeat", Ink{Stroke: &black, Width: g.cell.X * 0.12}, upright(c))
			}
		}
	}
}

// fifth reports a line that is a fifth of its repeat, or its border; the last line ends the last repeat.
func fifth(borders []int, c, columns int) bool {
	repeat, _ := slices.BinarySearch(borders, min(c, columns-1)+1)
	return (c-borders[max(repeat, 1)-1])%5 == 0
}

// rule draws a line between stitches, from its right or lower end. On pixels it is one wide, to the left or above.
func (g *grid) rule(strong bool, ends []Point) {
	from, to := ends[0], ends[1]
	switch {
	case g.Pixels && from.X == to.X:
		g.box("grid", Point{max(g.left, to.X-1), to.Y}, 1, from.Y-to.Y, Ink{Fill: ruleGrays[strong]})
	case g.Pixels:
		g.box("grid", Point{to.X, max(g.top, to.Y-1)}, from.X-to.X, 1, Ink{Fill: ruleGrays[strong]})
	case strong:
		g.line("grid", Ink{Stroke: &black, Width: g.cell.X * 0.04}, ends)
	default:
		g.line("grid", Ink{Stroke: &gray, Width: g.cell.X * 0.015}, ends)
	}
}

var ruleGrays = map[bool]*chart.Color{false: {R: 0x8C, G: 0x8C, B: 0x8C}, true: {R: 0x40, G: 0x40, B: 0x40}}

// stitchStrokes stand for stitches in a square from 0 to 1, y down: a decrease leans as it does in the fabric, a double
// one has a second stroke, what adds a stitch opens upward, a barb on the side to which it leans.
var stitchStrokes = [...][][]Point{
	chart.Purl:  {{{0.25, 0.5}, {0.75, 0.5}}},
	chart.Slip:  {{{0.25, 0.3}, {0.5, 0.75}, {0.75, 0.3}}},
	chart.K2tog: {{{0.25, 0.8}, {0.75, 0.2}}},
	chart.Ssk:   {{{0.25, 0.2}, {0.75, 0.8}}},
	chart.K3tog: {{{0.15, 0.8}, {0.65, 0.2}}, {{0.35, 0.8}, {0.85, 0.2}}},
	chart.Sk2p:  {{{0.15, 0.2}, {0.65, 0.8}}, {{0.35, 0.2}, {0.85, 0.8}}},
	chart.Cdd:   {{{0.2, 0.8}, {0.5, 0.2}, {0.8, 0.8}}, {{0.5, 0.2}, {0.5, 0.8}}},
	chart.Yo:    {{{0.5, 0.2}, {0.75, 0.5}, {0.5, 0.8}, {0.25, 0.5}, {0.5, 0.2}}},
	chart.M1:    {{{0.5, 0.8}, {0.5, 0.2}}, {{0.3, 0.45}, {0.5, 0.2}, {0.7, 0.45}}},
	chart.M1l:   {{{0.5, 0.8}, {0.5, 0.2}, {0.25, 0.5}}},
	chart.M1r:   {{{0.5, 0.8}, {0.5, 0.2}, {0.75, 0.5}}},
	chart.Kfb:   {{{0.5, 0.8}, {0.5, 0.5}, {0.25, 0.2}}, {{0.5, 0.5}, {0.75, 0.2}}},
}

func (g *grid) signs() {
	for row, r := range g.rows() {
		for c := g.win.columnFrom; c <= min(g.win.columnTo, r.Columns()-1); c++ {
			if cell := r.Cell(c); !cell.IsEmpty() {
				ink, at := against(*g.shown(cell.Yarn)), g.corner(row, c)
				if !g.wrong {
					g.sign(cell.Technique, at, ink)
				}
				if g.texture {
					g.ticks(cell.Yarn, at, ink)
				}
			}
		}
	}
}

// sign draws the sign of a stitch into a box of the cell's size with that upper left corner.
func (g *grid) sign(t chart.Technique, at Point, ink *chart.Color) {
	for _, stroke := range stitchStrokes[t] {
		g.line("sign", Ink{Stroke: ink, Width: g.pen}, placed(stroke, at, g.cell))
	}
}

func (g *grid) techniques() (used []chart.Technique, empty bool) {
	for _, r := range g.rows() {
		for _, c := range r.Cells {
			if c.IsEmpty() {
				empty = true
			} else if c.Technique != chart.Knit {
				used = append(used, c.Technique)
			}
		}
	}
	slices.Sort(used)
	return slices.Compact(used), empty
}

// ticks stand at the lower edge of a stitch, as many as its yarn has yarns before it.
func (g *grid) ticks(yarn int, at Point, ink *chart.Color) {
	for i := range min(yarn, 5) {
		x := 0.5 + 0.16*(float64(i)-float64(min(yarn, 5)-1)/2)
		g.line("ticks", Ink{Stroke: ink, Width: g.cell.X * 0.05}, placed([]Point{{x, 0.95}, {x, 0.72}}, at, g.cell))
	}
}

func alikeInGray(yarns []chart.Yarn) bool {
	const step = 20 // of lightness L*: our choice
	for i := range yarns {
		for _, other := range yarns[i+1:] {
			if math.Abs(yarns[i].Color.Lightness()-other.Color.Lightness()) < step {
				return true
			}
		}
	}
	return false
}
