package draw

import (
	"math"
	"slices"

	"strandwise/chart"
)

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
