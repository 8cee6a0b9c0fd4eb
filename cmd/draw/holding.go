package draw

import (
	"strandwise/chart"
	"strandwise/floats"
)

// Seen from the wrong side the yarn worked at a catch lies over the strand it holds: at a weave both legs of the
// stitch, one leading down across it and the other up, while it runs straight beneath; at a twist the bar between
// two stitches goes once right round it (common practice).

func (v *view) holding(row int, slots map[int]int) {
	for m := range v.marks(row) {
		if m.State != NotMade && m.State != Moved {
			at := Point{v.x(v.anchor(row, m.Stitch)), v.hangs(row, slots[m.Yarn])}
			color := &v.yarns[v.row(row).Stitch(m.Stitch).Yarn].Color
			for i, class := range []string{"behind", "leg"} {
				v.grasp(class, at, color, grasps[v.k.twist(row)][i], v.k.spotData(row, m.Stitch, m.Yarn))
			}
		}
	}
}

// grasps are what lies behind a strand and over it, by twist, as bows from where it holds, in stitches.
var grasps = map[bool][2][]Point{
	false: {nil, {{-0.38, -0.2}, {-0.14, -0.2}, {-0.1, 0.26}, {0, 0.3}, {0.1, 0.26}, {0.14, -0.2}, {0.38, -0.2}}},
	true: {
		{{0, 0.24}, {0.3, 0}, {0.05, -0.21}, {0.25, -0.21}, {0.45, -0.19}},
		{{-0.45, -0.19}, {-0.25, -0.21}, {-0.05, -0.21}, {-0.3, 0}, {0, 0.24}},
	},
}

func (v *view) grasp(class string, at Point, color *chart.Color, shape []Point, data []Datum) {
	if width := v.least() * 0.11; len(shape) > 0 {
		edge, ink := Ink{Stroke: against(*color), Width: width * 1.6}, Ink{Stroke: color, Width: width}
		v.edged(class, edge, ink, placed(shape, at, v.cell), data...)
	}
}

var graspWords = map[bool]string{
	false: "woven: both legs of the stitch lie over the strand",
	true:  "twisted: the yarn between two stitches goes round the strand",
}

func (v *view) graspSample(at Point, twist bool) {
	middle := at.plus(v.cell.X/2, v.cell.Y*0.45)
	v.grasp("legend", middle, &pale, grasps[twist][0], nil)
	v.curve("legend", Ink{Stroke: &black, Width: v.least() * 0.15}, []Point{{at.X, middle.Y}, middle, {at.X + v.cell.X, middle.Y}})
	v.grasp("legend", middle, &pale, grasps[twist][1], nil)
}

// bumps draw stitches of one yarn as the wrong side has them: knit as purl bumps, purled as knit ones.
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
	color := mixed(white, g.yarns[r.Cell(from).Yarn].Color, 0.7)
	for _, channel := range []*uint8{&color.R, &color.G, &color.B} {
		*channel -= *channel / 6
	}
	g.curve("bumps", Ink{Stroke: &color, Width: g.cell.X * 0.07}, points)
}
