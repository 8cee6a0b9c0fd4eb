package draw

import (
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// window is the part that one picture shows: rows from 1 and columns from 0, both ends in.
type window struct{ rowFrom, rowTo, columnFrom, columnTo int }

func (w window) rows() int    { return w.rowTo - w.rowFrom + 1 }
func (w window) columns() int { return w.columnTo - w.columnFrom + 1 }

// grid is stitches in their places: the layers that lie lowest in every picture, of a chart and
// of either side of a piece. Column 1 is at the right, on the wrong side at the left; row 1 is at
// the bottom.
type grid struct {
	*Scene
	yarns     []chart.Yarn
	row       func(n int) *floats.Row // from 1
	win       window
	wrong     bool
	cell      Point        // width and height of a stitch as drawn
	left, top float64      // upper left corner of the stitches
	pen       float64      // width of the strokes of signs
	texture   bool         // yarns too alike in gray are told apart by ticks
	empty     *chart.Color // of a place without a stitch; nil leaves it out
}

// x is the place of an edge between columns: edge c lies between columns c-1 and c, counted
// from 0. It takes fractions.
func (g *grid) x(edge float64) float64 {
	if g.wrong {
		return g.left + (edge-float64(g.win.columnFrom))*g.cell.X
	}
	return g.left + (float64(g.win.columnTo+1)-edge)*g.cell.X
}

// y is the upper edge of a row.
func (g *grid) y(row int) float64 { return g.top + float64(g.win.rowTo-row)*g.cell.Y }

// corner is the upper left corner of a stitch.
func (g *grid) corner(row, column int) Point {
	return Point{min(g.x(float64(column)), g.x(float64(column+1))), g.y(row)}
}

func (g *grid) bodyWidth() float64  { return float64(g.win.columns()) * g.cell.X }
func (g *grid) bodyHeight() float64 { return float64(g.win.rows()) * g.cell.Y }

// eachRow visits the rows of the window from below.
func (g *grid) eachRow(do func(row int, r *floats.Row)) {
	for row := g.win.rowFrom; row <= g.win.rowTo; row++ {
		do(row, g.row(row))
	}
}

func cellAt(r *floats.Row, column int) chart.Cell { return r.Cell(column) }

// stitches draws the stitches, run by run.
func (g *grid) stitches() {
	ground := g.ground()
	g.eachRow(func(row int, r *floats.Row) {
		end := min(g.win.columnTo+1, r.Columns())
		for c := g.win.columnFrom; c < end; {
			from, yarn := c, cellAt(r, c).Yarn
			for c++; c < end && cellAt(r, c).Yarn == yarn; c++ {
				continue
			}
			if g.Compact && yarn == ground {
				continue
			}
			fill := g.empty
			if yarn != chart.NoYarn {
				shown := g.shown(yarn)
				fill = &shown
			}
			if a, b := g.x(float64(from)), g.x(float64(c)); fill != nil {
				g.box("stitches", min(a, b), g.y(row), max(a, b)-min(a, b), g.cell.Y, Ink{Fill: fill})
			}
			if g.wrong && yarn != chart.NoYarn && g.cell.X >= readableCell && !g.Compact {
				g.bumps(row, r, from, c)
			}
		}
	})
}

// ground draws the yarn of most stitches as one box behind all others, where the scene is compact and
// every row reaches across, and gives that yarn; else chart.NoYarn-1, which is none.
func (g *grid) ground() int {
	const none = chart.NoYarn - 1
	counts := make([]int, len(g.yarns))
	across := g.Compact
	g.eachRow(func(_ int, r *floats.Row) {
		across = across && r.Columns() > g.win.columnTo
		for c := g.win.columnFrom; across && c <= g.win.columnTo; c++ {
			if yarn := cellAt(r, c).Yarn; yarn != chart.NoYarn {
				counts[yarn]++
			}
		}
	})
	if !across {
		return none
	}
	most := slices.Index(counts, slices.Max(counts))
	fill := g.shown(most)
	a, b := g.x(float64(g.win.columnFrom)), g.x(float64(g.win.columnTo+1))
	g.box("stitches", min(a, b), g.y(g.win.rowTo), max(a, b)-min(a, b), g.bodyHeight(), Ink{Fill: &fill})
	return most
}

// shown is a yarn's color as its stitches are drawn: on the wrong side they step back behind
// the strands.
func (g *grid) shown(yarn int) chart.Color {
	if g.wrong {
		return washed(g.yarns[yarn].Color, 0.45)
	}
	return g.yarns[yarn].Color
}

// lines draws the lines between stitches, every fifth of a repeat stronger, in a piece the
// outermost too, and over them the borders of repeats. Neighboring rows of as many columns and
// repeats share their lines.
func (g *grid) lines() {
	for row := g.win.rowFrom; row <= g.win.rowTo; {
		from, columns, borders := row, g.row(row).Columns(), g.row(row).Borders()
		for row++; row <= g.win.rowTo && g.row(row).Fits(g.row(from).Course); row++ {
			continue
		}
		end := min(columns, g.win.columnTo+1)
		for _, strong := range []bool{false, true} {
			for c := g.win.columnFrom; c <= end; c++ {
				if (fifth(borders, c, columns) || c == end && !g.Pixels) == strong {
					g.rule(strong, Point{g.x(float64(c)), g.y(from - 1)}, Point{g.x(float64(c)), g.y(row - 1)})
				}
			}
			for r := from - 1; r < row; r++ {
				if (r%5 == 0 || r == row-1 && row > g.win.rowTo && !g.Pixels) == strong {
					g.rule(strong, Point{g.x(float64(g.win.columnFrom)), g.y(r)}, Point{g.x(float64(end)), g.y(r)})
				}
			}
		}
		for _, c := range borders[1:] {
			if c >= g.win.columnFrom && c <= end {
				g.line("repeat", Ink{Stroke: &black, Width: g.cell.X * 0.12}, []Point{{g.x(float64(c)), g.y(from - 1)}, {g.x(float64(c)), g.y(row - 1)}})
			}
		}
	}
}

// fifth reports whether a line between columns is a fifth of its repeat, or its border; the line
// after the last column ends the last repeat.
func fifth(borders []int, c, columns int) bool {
	begins := borders[0]
	for _, b := range borders {
		if b < c || b == c && c < columns {
			begins = b
		}
	}
	return (c-begins)%5 == 0
}

// rule draws a line between stitches, from its right or lower end. On pixels it is one wide and
// lies on the stitches to its left or above.
func (g *grid) rule(strong bool, from, to Point) {
	switch {
	case g.Pixels && from.X == to.X:
		g.box("grid", max(g.left, to.X-1), to.Y, 1, from.Y-to.Y, Ink{Fill: ruleGrays[strong]})
	case g.Pixels:
		g.box("grid", to.X, max(g.top, to.Y-1), from.X-to.X, 1, Ink{Fill: ruleGrays[strong]})
	case strong:
		g.line("grid", Ink{Stroke: &black, Width: g.cell.X * 0.04}, []Point{from, to})
	default:
		g.line("grid", Ink{Stroke: &gray, Width: g.cell.X * 0.015}, []Point{from, to})
	}
}

// ruleGrays are the lines on pixels.
var ruleGrays = map[bool]*chart.Color{false: {R: 0x8C, G: 0x8C, B: 0x8C}, true: {R: 0x40, G: 0x40, B: 0x40}}
