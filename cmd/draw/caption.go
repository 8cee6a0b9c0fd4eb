package draw

import "fmt"

// name gives the picture its name and its description, for those who do not see it.
func (v *view) name(part string) {
	about, from := "Right side, drawn as a chart", "right"
	if v.wrong {
		about = "Wrong side, as it lies in the hand"
	}
	word, rows := v.k.rowWord(), fmt.Sprintf("%ss %d to %d", v.k.rowWord(), v.win.rowFrom, v.win.rowTo)
	v.Name = fmt.Sprintf("%s, %s side, %s%s", v.k.Piece.State.Setup.Name, v.Side, rows, part)
	switch {
	case v.k.Across > 0:
		v.Name += ", one repeat"
	case v.win.rowFrom > v.k.Made:
		v.Name += ", as planned"
	case v.meets():
		v.Name += fmt.Sprintf(", from %s %d as planned", word, v.k.Made+1)
	}
	v.Description = about + ": " + rows + "."
	if extent := v.k.extent(v.win); extent != "" {
		if v.win.columns() < v.k.Columns() {
			v.Name += ", " + extent
		}
		row, _ := v.k.rulers(v.win)
		if v.row(row).FromLeft != v.wrong {
			from = "left"
		}
		v.Description += fmt.Sprintf(" Of %s %d, which begins at the %s, %s.", word, row, from, extent)
	}
	counts := v.markCounts()
	if v.win.rowTo > v.k.Made {
		v.Description += fmt.Sprintf(" From %s %d on as planned: %s to make.",
			word, max(v.win.rowFrom, v.k.Made+1), plural(counts[ToMake], "catch", "catches"))
	}
	if v.win.rowFrom > v.k.Made {
		return
	}
	v.Description += fmt.Sprintf(" Of the catches of these %ss %d were made as planned, %d moved, %d missed, %d made and not planned.",
		word, counts[AsPlanned], counts[Moved], counts[NotMade], counts[Unplanned])
	if v.wrong {
		v.Description += fmt.Sprintf(" %s over the limit in the whole piece, listed by number.", plural(len(v.k.Mends), "gap", "gaps"))
	}
}

// meets reports whether finished rows and rows to come are shown together.
func (v *view) meets() bool { return v.win.rowFrom <= v.k.Made && v.k.Made < v.win.rowTo }

// scale draws a bar of a whole length of the fabric, true by the gauge. It returns the height
// it takes; without a gauge there is none.
func (v *view) scale(top float64) float64 {
	g, text := v.k.gauge(), v.legendLetter()
	if g.IsZero() {
		return 0
	}
	unit, mm := "cm", 10.0
	if v.Inches {
		unit, mm = "in", 25.4
	}
	n, long := 1, mm/g.StitchWidth()*v.cell.X
	for _, longer := range []int{2, 5, 10} {
		if float64(longer)*long <= v.bodyWidth()*0.6 {
			n = longer
		}
	}
	length := float64(n) * long
	at, ink := Point{v.left, top + text*0.7}, Ink{Stroke: &black, Width: text * 0.12}
	v.line("scale", ink, []Point{at, at.plus(length, 0)})
	for i := range n + 1 {
		x := length * float64(i) / float64(n)
		v.line("scale", ink, []Point{at.plus(x, -text*0.35), at.plus(x, text*0.35)})
	}
	v.label("legend-text", at.plus(length+text*0.6, text*0.36), text, Start, fmt.Sprintf("%d %s of the fabric", n, unit))
	return text * 1.8
}
