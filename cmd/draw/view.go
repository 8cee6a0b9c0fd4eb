package draw

import (
	"cmp"
	"fmt"
	"slices"

	"strandwise/floats"
)

type view struct {
	grid
	Options
	k *Knitted

	explained bool    // another part has the scale and the legend
	letter    float64 // size of the numbers
}

func newView(k *Knitted, win window, o Options) *view {
	o.Side = cmp.Or(o.Side, RightSide)
	wide := cmp.Or(o.wide, usualCell)
	cell := Point{wide, wide}
	if g := k.gauge(); g.RowHeight() > 0 {
		cell.Y = wide * g.RowHeight() / g.StitchWidth()
	}
	fabric := k.Piece.Layout.Fabric
	return &view{k: k, Options: o, letter: cmp.Or(o.small, min(wide*0.62, max(cell.Y*0.9, wide*0.45))), grid: grid{
		Scene: &Scene{}, yarns: fabric.Yarns, fabric: fabric.Rows, win: win, wrong: o.Side == WrongSide,
		cell: cell, pen: wide * 0.08, empty: &pale, texture: alikeInGray(fabric.Yarns),
	}}
}

func (v *view) draw(part string) *Scene {
	side := v.letter*0.62*float64(len(fmt.Sprint(v.win.rowTo))) + v.rim() + 1.5
	text := v.legendLetter()
	below, above := v.k.rulers(v.win)
	v.left, v.top, v.Width = side, 1+v.rulerHeight(above), v.bodyWidth()+2*side
	v.name(part)
	if !v.Bare {
		v.top += text*2.2 - 1
		v.Width = max(v.Width, leastWidth, textWidth(v.Name, text*1.188)+2*side) // bold letters are wider
		v.label("title", Point{v.left, text * 1.4}, text*1.1, Start, v.Name).Bold = true
	}
	v.clipped(Point{v.left - v.cell.X/2, v.top}, v.bodyWidth()+v.cell.X, v.bodyHeight(), v.body)
	v.layered(v.numbers, "number")
	y := v.top + v.bodyHeight()
	v.ruler(below, y+v.letter*1.2, y+v.letter*2.4)
	v.ruler(above, v.top-v.letter*0.5, v.top-v.letter*1.7)
	y += v.rulerHeight(below) + v.letter*0.8
	if !v.Bare && !v.explained {
		y += v.scale(y)
		y += v.legend(y, v.Width-2*side)
	}
	v.Height = y + 1
	return v.Scene
}

func (v *view) body() {
	v.layered(v.stitches, "ground", "stitches", "bumps")
	v.lines()
	if v.meets() {
		y := v.y(v.k.Made)
		v.line("to-come", Ink{Stroke: &black, Width: v.cell.Y * 0.16}, []Point{{v.left, y}, {v.left + v.bodyWidth(), y}})
	}
	v.signs()
	v.layered(func() {
		if v.wrong {
			v.strands()
		}
		v.catches()
	}, "behind-edge", "behind", "strand-edge", "strand", "ticks", "leg-edge", "leg",
		"warning-edge", "warning", "move-edge", "catch", "letter", "tag-edge", "tag")
}

// numbers sets the row numbers at both sides, bold where the row begins; where rows are low those of whole fives.
func (v *view) numbers() {
	step := numberStep(v.cell.Y, v.letter*1.05)
	for row, r := range v.rows() {
		if row%step == 0 || row == v.win.rowFrom || row == v.win.rowTo {
			beginsLeft := r.FromLeft != v.wrong
			v.rowNumber(row, v.left-v.rim(), v.letter, End).Bold = beginsLeft
			v.rowNumber(row, v.left+v.bodyWidth()+v.rim(), v.letter, Start).Bold = !beginsLeft
		}
	}
}

// rim is how far the row numbers stay off the stitches: strands reach out a little.
func (v *view) rim() float64 {
	if v.wrong {
		return v.letter*0.5 + v.cell.X*0.35
	}
	return v.letter * 0.5
}

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
			word, max(v.win.rowFrom, v.k.Made+1), counted(counts[ToMake], "catch"))
	}
	if v.win.rowFrom > v.k.Made {
		return
	}
	v.Description += fmt.Sprintf(" Of the catches of these %ss %d were made as planned, %d moved, %d missed, %d made and not planned.",
		word, counts[AsPlanned], counts[Moved], counts[NotMade], counts[Unplanned])
	if v.wrong {
		v.Description += fmt.Sprintf(" %s over the limit in the whole piece, listed by number.", counted(len(v.k.Mends), "gap"))
	}
}

func (v *view) meets() bool { return v.win.rowFrom <= v.k.Made && v.k.Made < v.win.rowTo }

// scale draws a bar of a whole length of the fabric, where a gauge is known, and returns the height it takes.
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

// A ruler numbers the repeats of one row and every fifth stitch within each, in knitting order. Rows may count from
// either side, or be shaped, so a fabric has the ruler of a row below it, and above it that of one worked otherwise,
// if there is one.

type tick struct {
	floats.Place
	column int // from 0
}

// ticks are the stitches that lie from one column to another, both in, in knitting order.
func ticks(r *floats.Row, from, to int) []tick {
	var all []tick
	for at := range r.All() {
		if c := r.Stitch(at).Column; c >= from && c <= to {
			all = append(all, tick{r.PlaceOf(at), c})
		}
	}
	return all
}

// rulers chooses their rows: below the lowest that is no plain one, above the highest worked otherwise than that, or
// 0.
func (k *Knitted) rulers(win window) (below, above int) {
	for below = win.rowFrom; k.plain(below); below++ {
		if below == win.rowTo {
			return win.rowFrom, 0
		}
	}
	for above = win.rowTo; above > below; above-- {
		if !k.plain(above) && !sameTicks(k.Piece.Row(above), k.Piece.Row(below)) {
			return below, above
		}
	}
	return below, 0
}

func (k *Knitted) plain(row int) bool { return k.Piece.Layout.Chart(k.Piece.Row(row).Part) == nil }

func sameTicks(a, b *floats.Row) bool {
	return a.FromLeft == b.FromLeft && a.Fits(b.Course) &&
		slices.EqualFunc(a.InOrder(), b.InOrder(), func(a, b floats.Stitch) bool { return a.Column == b.Column })
}

func (k *Knitted) rulerWords(win window) string {
	below, above := k.rulers(win)
	words := "numbers below: stitches of " + k.sideOf(below)
	if above > 0 {
		words += "; above: of " + k.sideOf(above)
	}
	return words
}

func (k *Knitted) sideOf(row int) string {
	words, side := fmt.Sprintf("%s %d", k.rowWord(), row), RightSide
	if k.Piece.Row(row).WrongSide {
		side = WrongSide
	}
	if k.Piece.Layout.Fabric.Flat {
		words += fmt.Sprintf(", worked on the %s side", side)
	}
	return words
}

// extent tells what of the first row with a ruler is shown: "repeat 2 stitch 1 to repeat 4 stitch 12"; empty when
// nothing, or but one of its repeats by itself.
func (k *Knitted) extent(win window) string {
	row, _ := k.rulers(win)
	r := k.Piece.Row(row)
	shown := ticks(r, win.columnFrom, win.columnTo)
	if len(shown) == 0 || k.Across > 0 {
		return ""
	}
	first, last := shown[0].Place, shown[len(shown)-1].Place
	switch {
	case first.Block > 0:
		return k.Piece.PlaceWords(row, r.StitchAt(first)) + " to " + k.Piece.PlaceWords(row, r.StitchAt(last))
	case r.Repeats() == 1:
		return fmt.Sprintf("stitches %d to %d", first.Stitch, last.Stitch)
	}
	return fmt.Sprintf("repeat %d stitch %d to repeat %d stitch %d", first.Repeat, first.Stitch, last.Repeat, last.Stitch)
}

// rulerHeight is the room a ruler takes beside the stitches; 0 for none.
func (v *view) rulerHeight(row int) float64 {
	switch {
	case row == 0:
		return 0
	case v.repeated(row):
		return v.letter * 2.6
	}
	return v.letter * 1.4
}

func (v *view) repeated(row int) bool { return v.k.Across == 0 && v.row(row).Repeats() > 1 }

// ruler draws the ruler of a row, 0 for none, with its stitches on one base line and its repeats on another.
func (v *view) ruler(row int, stitches, repeats float64) {
	if row == 0 {
		return
	}
	for _, t := range ticks(v.row(row), v.win.columnFrom, v.win.columnTo) {
		if t.Stitch%5 == 0 {
			v.label("number", Point{v.x(float64(t.column) + 0.5), stitches}, v.letter, Middle, fmt.Sprint(t.Stitch))
		}
	}
	if v.repeated(row) {
		v.repeatNames(row, repeats)
	}
}

// repeatNames names the repeats of a row on a base line, as far as there is room.
func (v *view) repeatNames(row int, line float64) {
	r := v.row(row)
	for i := range r.Blocks {
		b := &r.Blocks[i]
		for rep := 1; rep <= b.Repeats; rep++ {
			first := r.FirstColumn(b, rep)
			from, to := max(first, v.win.columnFrom), min(first+b.Columns-1, v.win.columnTo)
			text, long := repeatName(r, b, rep)
			room := float64(to-from+1) * v.cell.X
			if textWidth(long, v.letter) < room {
				text = long
			}
			if textWidth(text, v.letter) < room || rep%5 == 0 && to >= from {
				v.label("number", Point{v.x(float64(from+to+1) / 2), line}, v.letter, Middle, text).Bold = true
			}
		}
	}
}

func repeatName(r *floats.Row, b *floats.Block, rep int) (short, long string) {
	switch {
	case len(r.Blocks) == 1:
		return fmt.Sprint(rep), fmt.Sprintf("repeat %d", rep)
	case b.Repeats == 1:
		return fmt.Sprint(b.Number), fmt.Sprintf("block %d", b.Number)
	}
	return fmt.Sprintf("%d/%d", b.Number, rep), fmt.Sprintf("block %d repeat %d", b.Number, rep)
}
