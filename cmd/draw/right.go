package draw

import (
	"strandwise/chart"
	"strandwise/floats"
)

// The right side is drawn as a chart: stitches in the yarns' colors, signs for those that are
// not plain knit, and the catches.

// stitchStrokes are the strokes that stand for stitches, in a square from 0 to 1, y down. They follow
// the lean of the stitch on the right side; the legend names those in use.
var stitchStrokes = [...][][]Point{
	chart.Purl:  {{{0.3, 0.5}, {0.7, 0.5}}},
	chart.Slip:  {{{0.5, 0.25}, {0.5, 0.75}}},
	chart.K2tog: {{{0.25, 0.8}, {0.75, 0.2}}},
	chart.Ssk:   {{{0.25, 0.2}, {0.75, 0.8}}},
	chart.K3tog: {{{0.15, 0.8}, {0.6, 0.2}}, {{0.4, 0.8}, {0.85, 0.2}}},
	chart.Sk2p:  {{{0.15, 0.2}, {0.6, 0.8}}, {{0.4, 0.2}, {0.85, 0.8}}},
	chart.Cdd:   {{{0.2, 0.8}, {0.5, 0.2}, {0.8, 0.8}}, {{0.5, 0.2}, {0.5, 0.8}}},
	chart.Yo:    {{{0.25, 0.25}, {0.25, 0.75}, {0.75, 0.75}, {0.75, 0.25}}},
	chart.M1:    {{{0.5, 0.2}, {0.5, 0.8}}, {{0.2, 0.5}, {0.8, 0.5}}},
	chart.Kfb:   {{{0.2, 0.2}, {0.5, 0.8}, {0.8, 0.2}}},
}

// stitchSigns draws the signs of stitches that are not plain knit, and the ticks that tell
// yarns apart.
func (v *view) stitchSigns() {
	yarns := v.k.Piece.Layout.Fabric.Yarns
	v.eachRow(func(row int, r *floats.Row) {
		for c := v.win.columnFrom; c <= min(v.win.columnTo, r.Columns()-1); c++ {
			cell := cellAt(r, c)
			if cell.IsEmpty() {
				continue
			}
			at := Point{min(v.x(float64(c)), v.x(float64(c+1))), v.y(row)}
			ink := against(v.shown(yarns[cell.Yarn].Color))
			v.sign(cell.Technique, at, ink)
			if v.texture {
				v.ticks(cell.Yarn, at, ink)
			}
		}
	})
}

func (v *view) sign(t chart.Technique, at Point, ink *chart.Color) {
	for _, stroke := range stitchStrokes[t] {
		points := make([]Point, len(stroke))
		for i, p := range stroke {
			points[i] = Point{at.X + p.X*v.cell.X, at.Y + p.Y*v.cell.Y}
		}
		v.line("sign", Ink{Stroke: ink, Width: v.cell.X * 0.08}, points...)
	}
}

// ticks stand at the lower edge of a stitch, as many as its yarn has yarns before it.
func (v *view) ticks(yarn int, at Point, ink *chart.Color) {
	for i := range min(yarn, 5) {
		x := at.X + v.cell.X*(0.5+0.16*(float64(i)-float64(min(yarn, 5)-1)/2))
		v.line("ticks", Ink{Stroke: ink, Width: v.cell.X * 0.05}, Point{x, at.Y + v.cell.Y*0.95}, Point{x, at.Y + v.cell.Y*0.72})
	}
}

// catchesOnChart marks the catches, filled with the color of the yarn caught.
func (v *view) catchesOnChart() {
	yarns := v.k.Piece.Layout.Fabric.Yarns
	radius := min(v.cell.X, v.cell.Y) * 0.24
	v.eachRow(func(row int, r *floats.Row) {
		for _, m := range v.k.Marks[row-1] {
			if m.Stitch > r.Stitches() {
				continue
			}
			edge := v.anchor(row, m.Stitch)
			if !v.sees(edge, edge) {
				continue
			}
			stitch := r.InOrder()[(m.Stitch-1)%r.RepeatStitches()]
			ink := Ink{Fill: &yarns[m.Yarn].Color, Stroke: against(yarns[stitch.Yarn].Color), Width: radius * 0.4}
			v.mark(m, row, Point{v.x(edge), v.y(row) + v.cell.Y/2}, radius, ink)
		}
	})
}

// alikeInGray reports whether two yarns of the piece are too close in lightness to be told
// apart on a gray print.
func alikeInGray(yarns []chart.Yarn) bool {
	for i := range yarns {
		for _, other := range yarns[i+1:] {
			if d := yarns[i].Color.Lightness() - other.Color.Lightness(); d < grayStep && d > -grayStep {
				return true
			}
		}
	}
	return false
}

// grayStep is the difference in lightness L* below which two yarns get ticks: our choice.
const grayStep = 20
