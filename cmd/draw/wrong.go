package draw

import (
	"fmt"
	"math"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// The wrong side shows every float as a strand that hangs from its own stitches, its catches and the edge. How
// deep it sags follows from how far it runs; the figures are our choice and say nothing of tension.

// hangs is the height of the anchors of a row; a third and further yarn hangs lower.
func (v *view) hangs(row, slot int) float64 { return v.y(row) + v.cell.Y*(0.3+0.13*float64(slot)) }

// bows are the way of a span, from anchor to anchor; none where it does not show. A strand comes out of the middle of
// its own stitches; at the edge it ends, or goes a little beyond where it runs on.
func (v *view) bows(s span, y float64) [][]Point {
	const ownStitch = 0.35 // of a stitch, into which its strand reaches
	on := v.onward(s.row)
	begin, end := v.entry(s.row, s.first), v.entry(s.row, s.last)+on
	if s.first > 1 || s.Kind == floats.OverStart {
		begin -= ownStitch * on
	}
	if s.last < v.row(s.row).Stitches() || s.Kind == floats.OverStart {
		end += ownStitch * on
	}
	if !v.sees(begin, end) {
		return nil
	}
	var bows [][]Point
	hang := func(to float64) {
		depth := v.cell.Y * min(0.5, 0.05+0.055*math.Abs(to-begin))
		bows = append(bows, []Point{{v.x(begin), y}, {v.x((begin + to) / 2), y + 2*depth}, {v.x(to), y}})
		begin = to
	}
	for _, stitch := range s.caught {
		hang(v.anchor(s.row, stitch))
	}
	hang(end)
	return bows
}

func (v *view) strands() {
	spans := v.k.spans()
	for row := range v.rows() {
		slots := slotsOf(spans[row-1])
		v.holding(row, slots)
		for _, s := range spans[row-1] {
			bows := v.bows(s, v.hangs(row, slots[s.Yarn]))
			if bows == nil {
				continue
			}
			v.strand(s, bows)
			for _, m := range s.mends {
				bow, _ := slices.BinarySearch(s.caught, m.first+1) // a twist at its first stitch lies before it
				v.warn(m, s.Yarn, bows[bow])
			}
		}
	}
}

// slotsOf gives heights to hang at: one for no more than two yarns, since two never float over one stitch.
func slotsOf(spans []span) map[int]int {
	slots := map[int]int{}
	for _, s := range spans {
		if _, known := slots[s.Yarn]; !known {
			slots[s.Yarn] = len(slots)
		}
	}
	if len(slots) <= 2 {
		clear(slots)
	}
	return slots
}

func (v *view) strand(s span, bows [][]Point) {
	color, width, way := &v.yarns[s.Yarn].Color, v.least()*0.15, bows[0][:1:1]
	for _, bow := range bows {
		way = append(way, bow[1:]...)
		if v.texture {
			v.strandTicks(s.Yarn, Point{bow[1].X, (bow[0].Y + bow[1].Y) / 2})
		}
	}
	data := append(v.k.spotData(s.From.Row, s.From.Stitch, s.Yarn), Datum{"length", fmt.Sprint(s.Length)}, Datum{"kind", s.Kind.String()})
	if s.upper {
		data = append(data[:len(data)-2], Datum{"runs-on", "yes"})
	}
	v.edged("strand", Ink{Stroke: against(*color), Width: width * 1.6}, Ink{Stroke: color, Width: width}, way, data...)
}

// strandTicks cross a strand at a point of it, as many as its stitches carry.
func (v *view) strandTicks(yarn int, at Point) {
	n, size := min(yarn, 5), v.least()
	for i := range n {
		x := size * 0.16 * (float64(i) - float64(n-1)/2)
		v.line("ticks", Ink{Stroke: against(v.yarns[yarn].Color), Width: size * 0.06}, []Point{at.plus(x, -size*0.11), at.plus(x, size*0.11)})
	}
}

// warn draws a bow over the limit, told by its color and dashes, and its number in a box amid what shows of it.
func (v *view) warn(m toMend, yarn int, bow []Point) {
	width := v.least() * 0.2
	v.edged("warning", Ink{Stroke: &white, Width: width * 1.7}, Ink{Stroke: &warningRed, Width: width, Dash: width * 1.3}, bow,
		append(v.k.spotData(m.from.Row, m.from.Stitch, yarn), Datum{"mend", fmt.Sprint(m.number)})...)
	left, right := v.left, v.left+v.bodyWidth()
	a, b := bow[0].X, bow[2].X
	x, y := (max(min(a, b), left)+min(max(a, b), right))/2, (bow[0].Y+bow[1].Y)/2
	text, size := fmt.Sprint(m.number), v.least()*0.62
	wide, high := size*(0.35+0.62*float64(len(text))), size*1.05
	at := Point{max(left+wide/2, min(x, right-wide/2)), y}
	v.box("tag-edge", at.plus(-wide/2, -high/2), wide, high, Ink{Fill: &white, Stroke: &warningRed, Width: size * 0.09})
	number := v.label("tag", at.plus(0, size*0.36), size, Middle, text)
	number.Bold, number.ID = true, v.place(m)
}

// place names the place of a gap to mend, for the first that is drawn of its line in the mending list.
func (v *view) place(m toMend) string {
	if v.Places == nil || v.Places[m.number] || m.from != v.k.Mends[m.number-1].From {
		return ""
	}
	v.Places[m.number] = true
	return MendPlace(m.number)
}

// MendPlace is what the place of a number of the mending list is called on a page.
func MendPlace(number int) string { return fmt.Sprintf("mend-%d", number) }

// Seen from the wrong side the yarn worked at a catch lies over the strand it holds: at a weave both legs of the
// stitch, one leading down across it and the other up, while it runs straight beneath; at a twist the bar between
// two stitches goes once right round it (common practice).

func (v *view) holding(row int, slots map[int]int) {
	for m := range v.marks(row) {
		if m.State != NotMade && m.State != Moved {
			at := Point{v.x(v.anchor(row, m.Stitch)), v.hangs(row, slots[m.Yarn])}
			color, data := &v.yarns[v.row(row).Stitch(m.Stitch).Yarn].Color, v.k.spotData(row, m.Stitch, m.Yarn)
			v.grasp("behind", at, color, grasps[v.k.twist(row)].behind, data...)
			v.grasp("leg", at, color, grasps[v.k.twist(row)].over, data...)
		}
	}
}

// grasps are how a strand is held, by twist: in words, and what lies behind it and over it as bows from where it is
// held, in stitches.
var grasps = map[bool]struct {
	words        string
	behind, over []Point
}{
	false: {
		words: "woven: both legs of the stitch lie over the strand",
		over:  []Point{{-0.38, -0.2}, {-0.14, -0.2}, {-0.1, 0.26}, {0, 0.3}, {0.1, 0.26}, {0.14, -0.2}, {0.38, -0.2}},
	},
	true: {
		words:  "twisted: the yarn between two stitches goes round the strand",
		behind: []Point{{0, 0.24}, {0.3, 0}, {0.05, -0.21}, {0.25, -0.21}, {0.45, -0.19}},
		over:   []Point{{-0.45, -0.19}, {-0.25, -0.21}, {-0.05, -0.21}, {-0.3, 0}, {0, 0.24}},
	},
}

func (v *view) grasp(class string, at Point, color *chart.Color, shape []Point, data ...Datum) {
	if width := v.least() * 0.11; len(shape) > 0 {
		edge, ink := Ink{Stroke: against(*color), Width: width * 1.6}, Ink{Stroke: color, Width: width}
		v.edged(class, edge, ink, placed(shape, at, v.cell), data...)
	}
}

func (v *view) graspSample(at Point, twist bool) {
	middle := at.plus(v.cell.X/2, v.cell.Y*0.45)
	v.grasp("legend", middle, &pale, grasps[twist].behind)
	v.curve("legend", Ink{Stroke: &black, Width: v.least() * 0.15}, []Point{{at.X, middle.Y}, middle, {at.X + v.cell.X, middle.Y}})
	v.grasp("legend", middle, &pale, grasps[twist].over)
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
