package draw

import (
	"fmt"
	"slices"

	"strandwise/floats"
)

// The wrong side shows every float as a strand that hangs from its anchors: its own
// stitches, its catches, the edge. How deep it sags follows from how far it runs; the
// figures are our choice and say nothing of tension. What holds a strand is drawn as it lies in the
// fabric (holding.go), and below it the sign of the catch.

// hung is a span with its anchors: edges of columns and the height they hang at.
type hung struct {
	span
	anchors []float64
	y       float64
}

// hang finds the anchors of a span. At its own stitches a strand comes out of their middle; at
// the edge it ends at it, or goes a little beyond where it runs on.
func (v *view) hang(s span, slot int) hung {
	on := v.onward(s.row)
	begin, end := v.entry(s.row, s.first), v.entry(s.row, s.last)+on
	if s.first > 1 || s.Kind == floats.OverStart {
		begin -= ownStitch * on
	}
	if s.last < v.row(s.row).Stitches() || s.Kind == floats.OverStart {
		end += ownStitch * on
	}
	h := hung{span: s, y: v.hangs(s.row, slot), anchors: []float64{begin}}
	for _, stitch := range s.caught {
		h.anchors = append(h.anchors, v.anchor(s.row, stitch))
	}
	h.anchors = append(h.anchors, end)
	return h
}

// ownStitch is how far a strand reaches into the stitch it comes from, in stitches.
const ownStitch = 0.35

// hangs is the height of the anchors of a row; a third and further yarn hangs lower.
func (v *view) hangs(row, slot int) float64 { return v.y(row) + v.cell.Y*(0.3+0.13*float64(slot)) }

// sag is the way of one bow.
func (v *view) sag(h hung, i int) []Point {
	a, b := h.anchors[i], h.anchors[i+1]
	across := max(a-b, b-a)
	depth := v.cell.Y * min(0.5, 0.05+0.055*across)
	return []Point{{v.x(a), h.y}, {v.x((a + b) / 2), h.y + 2*depth}, {v.x(b), h.y}}
}

// bowOf is the bow that a gap is, counted from 0: a twist at its first stitch lies before it.
func (v *view) bowOf(s span, m toMend) int {
	bow, _ := slices.BinarySearch(s.caught, m.first+1)
	return bow
}

// course is the whole way of a span.
func (v *view) course(h hung) []Point {
	points := v.sag(h, 0)
	for i := range h.caught {
		points = append(points, v.sag(h, i+1)[1:]...)
	}
	return points
}

// strands draws the strands of every row, then over them the warnings, the catches and the
// numbers, so that none hides another.
func (v *view) strands() {
	spans := v.k.spans()
	var over []warning
	v.grouped(func() {
		v.eachRow(func(row int, _ *floats.Row) {
			slots := slotsOf(spans[row-1])
			v.holding(row, slots)
			var shown []hung
			for _, s := range spans[row-1] {
				h := v.hang(s, slots[s.Yarn])
				if !v.sees(h.anchors[0], h.anchors[len(h.anchors)-1]) {
					continue
				}
				shown = append(shown, h)
				for _, m := range s.mends {
					over = append(over, warning{v.sag(h, v.bowOf(s, m)), s.Yarn, m})
				}
			}
			v.strandsOf(shown)
		})
	}, "behind-edge", "behind", "edge", "strand", "ticks", "leg-edge", "leg")
	for _, w := range over {
		v.warn(w)
	}
	v.grouped(v.catches, signClasses...)
	for _, w := range over {
		v.tag(w)
	}
}

// slotsOf gives the yarns of a row heights to hang at: one height while no more than two
// yarns float, since two never float over one stitch.
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

// strandsOf draws strands: first what sets them off, then themselves.
func (v *view) strandsOf(all []hung) {
	width := min(v.cell.X, v.cell.Y) * 0.15
	for _, h := range all {
		v.curve("edge", Ink{Stroke: against(v.yarns[h.Yarn].Color), Width: width * 1.6}, v.course(h))
	}
	for _, h := range all {
		v.curve("strand", Ink{Stroke: &v.yarns[h.Yarn].Color, Width: width}, v.course(h), v.strandData(h.span)...)
	}
	for _, h := range all {
		for i := 0; v.texture && i <= len(h.caught); i++ {
			way := v.sag(h, i)
			v.strandTicks(h.Yarn, Point{way[1].X, (way[0].Y + way[1].Y) / 2})
		}
	}
}

// strandTicks cross a strand at a point of it, as many as its stitches carry.
func (v *view) strandTicks(yarn int, at Point) {
	n, size := min(yarn, 5), min(v.cell.X, v.cell.Y)
	for i := range n {
		x := at.X + size*0.16*(float64(i)-float64(n-1)/2)
		v.line("ticks", Ink{Stroke: against(v.yarns[yarn].Color), Width: size * 0.06}, []Point{{x, at.Y - size*0.11}, {x, at.Y + size*0.11}})
	}
}

func (v *view) strandData(s span) []Datum {
	data := v.k.spotData(s.From.Row, s.From.Stitch, s.Yarn)
	if s.upper {
		return append(data, Datum{"runs-on", "yes"})
	}
	return append(data, Datum{"length", fmt.Sprint(s.Length)}, Datum{"kind", s.Kind.String()})
}

// warning is a bow of a strand whose gap is over the limit.
type warning struct {
	way  []Point
	yarn int
	toMend
}

// warn draws a warning: told from a strand by its color and by its dashes.
func (v *view) warn(w warning) {
	width := min(v.cell.X, v.cell.Y) * 0.2
	v.curve("warning-edge", Ink{Stroke: &white, Width: width * 1.7}, w.way)
	v.curve("warning", Ink{Stroke: &warningRed, Width: width, Dash: width * 1.3}, w.way,
		append(v.k.spotData(w.from.Row, w.from.Stitch, w.yarn), Datum{"mend", fmt.Sprint(w.number)})...)
}

// tag sets the number of a warning in a box, in the middle of what shows of it.
func (v *view) tag(w warning) {
	left, right := v.left, v.left+v.bodyWidth()
	a, b := w.way[0].X, w.way[2].X
	x, y := (max(min(a, b), left)+min(max(a, b), right))/2, (w.way[0].Y+w.way[1].Y)/2
	text, size := fmt.Sprint(w.number), min(v.cell.X, v.cell.Y)*0.62
	width, height := size*(0.35+0.62*float64(len(text))), size*1.05
	x = max(left+width/2, min(x, right-width/2))
	v.box("tag", x-width/2, y-height/2, width, height, Ink{Fill: &white, Stroke: &warningRed, Width: size * 0.09})
	v.add(Shape{
		Kind: Label, Class: "tag", Points: []Point{{x, y + size*0.36}}, Size: size, Align: Middle, Text: text, Bold: true,
		Ink: Ink{Fill: &black}, ID: v.place(w.toMend),
	})
}

// place is the name of the place of a gap to mend, for the first that is drawn of its line in the
// mending list.
func (v *view) place(m toMend) string {
	if v.places == nil || v.places[m.number] || m.from != v.k.Mends[m.number-1].From {
		return ""
	}
	v.places[m.number] = true
	return MendPlace(m.number)
}

// MendPlace is what the place of a number of the mending list is called on a page.
func MendPlace(number int) string { return fmt.Sprintf("mend-%d", number) }
