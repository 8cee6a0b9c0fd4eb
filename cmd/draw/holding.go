package draw

import (
	"strandwise/chart"
	"strandwise/floats"
)

// Seen from the wrong side the yarn worked at a catch lies over the strand it holds. At a weave that
// is both legs of the stitch, one leading down across the strand and the other up again, while
// the strand runs straight through beneath them; at a twist the bar between two stitches goes
// once right round it (common practice).

// holding draws what holds the strands of a row.
func (v *view) holding(row int, slots map[int]int) {
	v.eachMark(row, func(m Mark, edge float64, _ share) {
		if m.State != NotMade && m.State != Moved {
			at, yarn := Point{v.x(edge), v.hangs(row, slots[m.Yarn])}, v.row(row).Stitch(m.Stitch).Yarn
			data, color, shapes := v.k.spotData(row, m.Stitch, m.Yarn), &v.yarns[yarn].Color, grasps[v.k.twist(row)]
			v.grasp("behind", at, color, shapes[0], data)
			v.grasp("leg", at, color, shapes[1], data)
		}
	})
}

// grasps are what lies behind a strand and over it, as bows, from where it holds, in stitches: at a
// weave the leg that leads down and the one that leads up, at a twist the halves of its turn.
var grasps = map[bool][2][]Point{
	false: {nil, {{-0.38, -0.2}, {-0.14, -0.2}, {-0.1, 0.26}, {0, 0.3}, {0.1, 0.26}, {0.14, -0.2}, {0.38, -0.2}}},
	true: {
		{{0, 0.24}, {0.3, 0}, {0.05, -0.21}, {0.25, -0.21}, {0.45, -0.19}},
		{{-0.45, -0.19}, {-0.25, -0.21}, {-0.05, -0.21}, {-0.3, 0}, {0, 0.24}},
	},
}

// grasp draws what lies over a strand at a place, or behind it, on what sets it off.
func (v *view) grasp(class string, at Point, color *chart.Color, shape []Point, data []Datum) {
	points := make([]Point, len(shape))
	for i, p := range shape {
		points[i] = Point{at.X + p.X*v.cell.X, at.Y + p.Y*v.cell.Y}
	}
	if width := min(v.cell.X, v.cell.Y) * 0.11; len(points) > 0 {
		v.curve(class+"-edge", Ink{Stroke: against(*color), Width: width * 1.6}, points)
		v.curve(class, Ink{Stroke: color, Width: width}, points, data...)
	}
}

// graspItem explains in the legend what holds a strand.
func (v *view) graspItem(twist bool) legendItem {
	words := "woven: both legs of the stitch lie over the strand"
	if twist {
		words = "twisted: the yarn between two stitches goes round the strand"
	}
	return legendItem{words, func(at Point) {
		middle := Point{at.X + v.cell.X/2, at.Y + v.cell.Y*0.45}
		v.grasp("legend", middle, &pale, grasps[twist][0], nil)
		v.curve("legend", Ink{Stroke: &black, Width: min(v.cell.X, v.cell.Y) * 0.15}, []Point{{at.X, middle.Y}, middle, {at.X + v.cell.X, middle.Y}})
		v.grasp("legend", middle, &pale, grasps[twist][1], nil)
	}}
}

// bumps draw stitches of one yarn as the wrong side has them: a knit stitch as a purl bump, one that
// was purled as a knit one.
func (g *grid) bumps(row int, r *floats.Row, from, to int) {
	left, base := g.x(float64(from)), g.y(row)+g.cell.Y*0.62
	points := []Point{{left, base}}
	for c := from; c < to; c++ {
		depth := -0.5 * g.cell.Y
		if r.Cell(c).Technique == chart.Purl {
			depth = -depth
		}
		points = append(points, Point{g.x(float64(c) + 0.5), base + depth}, Point{g.x(float64(c + 1)), base})
	}
	color := washed(g.yarns[r.Cell(from).Yarn].Color, 0.7)
	for _, channel := range []*uint8{&color.R, &color.G, &color.B} {
		*channel -= *channel / 6
	}
	g.curve("bumps", Ink{Stroke: &color, Width: g.cell.X * 0.07}, points)
}
