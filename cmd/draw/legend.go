package draw

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
)

// legendItem is a sign and what it means. Draw draws the sign into a box of the cell's size
// with the given upper left corner.
type legendItem struct {
	text string
	draw func(v *view, at Point)
}

// legend lists what the picture shows, in order.
func (v *view) legend() []legendItem {
	items := v.yarnItems()
	if v.wrong {
		items = append(items, v.strandItems()...)
	} else {
		items = append(items, v.signItems()...)
	}
	items = append(items, v.markItems()...)
	return append(items, legendItem{fmt.Sprintf("bold number: the %s begins there", v.k.rowWord()), nil})
}

func (v *view) yarnItems() []legendItem {
	var items []legendItem
	yarns := v.k.Piece.Layout.Fabric.Yarns
	for i := range yarns {
		items = append(items, legendItem{yarns[i].Name, func(v *view, at Point) {
			fill := v.shown(yarns[i].Color)
			v.box("legend", at.X, at.Y, v.cell.X, v.cell.Y, Ink{Fill: &fill, Stroke: &Black, Width: v.cell.X * 0.03})
			if v.texture && !v.wrong {
				v.ticks(i, at, against(fill))
			}
			if v.wrong {
				v.sample(at, &yarns[i].Color, false)
			}
		}})
	}
	return items
}

// sample draws a short strand.
func (v *view) sample(at Point, c *chart.Color, warn bool) {
	y, width := at.Y+v.cell.Y*0.3, min(v.cell.X, v.cell.Y)*0.15
	points := []Point{{at.X, y}, {at.X + v.cell.X/2, y + v.cell.Y*0.7}, {at.X + v.cell.X, y}}
	if warn {
		v.add(Shape{Kind: Bow, Class: "legend", Points: points, Ink: Ink{Stroke: c, Width: width * 1.33, Dash: width * 1.7}})
		return
	}
	v.add(Shape{Kind: Bow, Class: "legend", Points: points, Ink: Ink{Stroke: against(*c), Width: width * 1.6}})
	v.add(Shape{Kind: Bow, Class: "legend", Points: points, Ink: Ink{Stroke: c, Width: width}})
}

func (v *view) strandItems() []legendItem {
	if len(v.k.Mends) == 0 {
		return nil
	}
	return []legendItem{{"gap over the limit, with its number in the mending list", func(v *view, at Point) {
		v.sample(at, &warningRed, true)
	}}}
}

func (v *view) signItems() []legendItem {
	used, empty := map[chart.Technique]bool{}, false
	v.eachRow(func(_ int, r *floats.Row) {
		for _, c := range r.Cells {
			used[c.Technique] = used[c.Technique] || !c.IsEmpty()
			empty = empty || c.IsEmpty()
		}
	})
	var items []legendItem
	for _, t := range chart.Techniques() {
		if t != chart.Knit && used[t] {
			items = append(items, legendItem{t.String(), func(v *view, at Point) {
				v.box("legend", at.X, at.Y, v.cell.X, v.cell.Y, Ink{Fill: &white, Stroke: &Black, Width: v.cell.X * 0.03})
				v.sign(t, at, &Black)
			}})
		}
	}
	if empty {
		items = append(items, legendItem{"no stitch", func(v *view, at Point) {
			v.box("legend", at.X, at.Y, v.cell.X, v.cell.Y, Ink{Fill: &Pale})
		}})
	}
	return items
}

// markWords name the states in the legend.
var markWords = [...]string{AsPlanned: "catch, made as planned", NotMade: "planned, not made here", Unplanned: "made, not planned here"}

func (v *view) markItems() []legendItem {
	seen := map[State]bool{}
	for row := v.win.rowFrom; row <= v.win.rowTo; row++ {
		for _, m := range v.k.Marks[row-1] {
			seen[m.State] = true
		}
	}
	var items []legendItem
	for state, words := range markWords {
		if !seen[State(state)] {
			continue
		}
		if v.k.Planned {
			words = "catch to make"
		}
		if v.anyTwist() {
			words += ", just before the stitch"
		}
		items = append(items, legendItem{words, func(v *view, at Point) {
			ink := Ink{Fill: &Pale, Stroke: &Black, Width: v.cell.X * 0.08}
			v.markAt("legend", State(state), Point{at.X + v.cell.X/2, at.Y + v.cell.Y/2}, min(v.cell.X, v.cell.Y)*0.24, ink)
		}})
	}
	return items
}

// anyTwist reports whether catches of the picture are twists.
func (v *view) anyTwist() bool {
	return slices.ContainsFunc(v.k.Piece.State.Grips, func(g session.Grip) bool { return g.FloatMethod() == floats.Twist })
}

// place sets legend items into lines of the given width and returns how high they are.
// With draw false it only measures.
func (v *view) placeLegend(items []legendItem, top, width float64, draw bool) float64 {
	text := v.legendLetter()
	lineHeight := max(v.cell.Y, text*1.2) * 1.25
	x, y := v.left, top
	for _, item := range items {
		sign := v.cell.X + text*0.5
		if item.draw == nil {
			sign = 0
		}
		w := sign + textWidth(item.text, text) + text*1.5
		if x > v.left && x+w > v.left+width {
			x, y = v.left, y+lineHeight
		}
		if draw {
			if item.draw != nil {
				item.draw(v, Point{x, y})
			}
			v.label("legend-text", x+sign, y+v.cell.Y/2+text*0.36, text, Start, item.text)
		}
		x += w
	}
	return y + lineHeight - top
}

// legendLetter is the size of the legend's letters.
func (v *view) legendLetter() float64 { return max(v.letter, 2.6) }

// textWidth estimates how wide a text is; a little too wide for most letters.
func textWidth(text string, size float64) float64 {
	n := 0
	for _, r := range text {
		n++
		if r > 0x2E80 {
			n++ // letters of East Asia are about as wide as high
		}
	}
	return float64(n) * size * 0.56
}

// scale draws a bar of a whole length of the fabric, true by the gauge. It returns the height
// it takes.
func (v *view) scale(top float64) float64 {
	width, _, known := v.k.stitch()
	text := v.legendLetter()
	if !known {
		v.label("legend-text", v.left, top+text, text, Start, "No gauge is known: stitches are drawn square and there is no scale.")
		return text * 1.8
	}
	unit, mm := "cm", 10.0
	if v.inches {
		unit, mm = "in", 25.4
	}
	n := 1
	for _, longer := range []int{2, 5, 10} {
		if float64(longer)*mm/width*v.cell.X <= v.bodyWidth()*0.6 {
			n = longer
		}
	}
	length := float64(n) * mm / width * v.cell.X
	y, ink := top+text*0.7, Ink{Stroke: &Black, Width: text * 0.12}
	v.line("scale", ink, Point{v.left, y}, Point{v.left + length, y})
	for i := 0; i <= n; i++ {
		x := v.left + length*float64(i)/float64(n)
		v.line("scale", ink, Point{x, y - text*0.35}, Point{x, y + text*0.35})
	}
	note := fmt.Sprintf("%d %s of the fabric", n, unit)
	if v.squared() {
		note += "; the gauge tells no rows, so stitches are drawn square"
	}
	v.label("legend-text", v.left+length+text*0.6, y+text*0.36, text, Start, note)
	return text * 1.8
}

// squared reports whether the gauge says how wide a stitch is and not how high.
func (v *view) squared() bool {
	g, err := floats.ParseGauge(v.k.Piece.State.SegmentAt(v.k.Rows).Gauge)
	return err == nil && g.RowHeight() == 0
}

// describe says what a picture shows, for those who do not see it.
func (v *view) describe() string {
	var b strings.Builder
	side := "Right side, drawn as a chart with column 1 at the right"
	if v.wrong {
		side = "Wrong side, as it lies in the hand with column 1 at the left"
	}
	fmt.Fprintf(&b, "%s: %ss %d to %d, columns %d to %d.", side, v.k.rowWord(), v.win.rowFrom, v.win.rowTo, v.win.columnFrom+1, v.win.columnTo+1)
	counts := [3]int{}
	for row := v.win.rowFrom; row <= v.win.rowTo; row++ {
		for _, m := range v.k.Marks[row-1] {
			counts[m.State]++
		}
	}
	if v.k.Planned {
		fmt.Fprintf(&b, " %s to make.", plural(counts[AsPlanned], "catch", "catches"))
		return b.String()
	}
	fmt.Fprintf(&b, " Of the catches of these %ss %d were made as planned, %d planned and not made, %d made and not planned.",
		v.k.rowWord(), counts[AsPlanned], counts[NotMade], counts[Unplanned])
	if n := len(v.k.Mends); v.wrong {
		fmt.Fprintf(&b, " %s over the limit in the whole piece, listed by number.", plural(n, "gap", "gaps"))
	}
	return b.String()
}
