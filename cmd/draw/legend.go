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
	draw func(at Point)
}

// legend lists what the picture shows, in order.
func (v *view) legend() []legendItem {
	items := v.yarnItems()
	switch {
	case !v.wrong:
		items = append(items, v.signItems()...)
	case len(v.k.Mends) > 0:
		items = append(items, legendItem{"gap over the limit, with its number in the mending list", func(at Point) { v.sample(at, &warningRed, true) }})
	}
	for _, twist := range []bool{false, true} {
		if v.wrong && v.holds(twist) {
			items = append(items, v.graspItem(twist))
		}
	}
	items = append(items, v.markItems()...)
	if v.meets() {
		items = append(items, legendItem{fmt.Sprintf("thick line: the %ss above it are to come, as planned", v.k.rowWord()), nil})
	}
	return append(items, legendItem{fmt.Sprintf("bold at the side: the %s begins there", v.k.rowWord()), nil},
		legendItem{v.k.rulerWords(v.win.rowFrom, v.win.rowTo), nil})
}

func (v *view) yarnItems() []legendItem {
	var items []legendItem
	for i := range v.yarns {
		items = append(items, legendItem{v.yarns[i].Name, func(at Point) {
			fill := v.shown(i)
			v.box("legend", at.X, at.Y, v.cell.X, v.cell.Y, Ink{Fill: &fill, Stroke: &black, Width: v.cell.X * 0.03})
			if v.texture {
				v.ticks(i, at, against(fill))
			}
			if v.wrong {
				v.sample(at, &v.yarns[i].Color, false)
				if v.texture {
					v.strandTicks(i, Point{at.X + v.cell.X/2, at.Y + v.cell.Y*0.65})
				}
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
		v.curve("legend", Ink{Stroke: c, Width: width * 1.33, Dash: width * 1.7}, points)
		return
	}
	v.curve("legend", Ink{Stroke: against(*c), Width: width * 1.6}, points)
	v.curve("legend", Ink{Stroke: c, Width: width}, points)
}

func (v *view) signItems() []legendItem {
	used, empty := v.techniques()
	var items []legendItem
	for _, t := range used {
		items = append(items, legendItem{t.String(), func(at Point) {
			v.box("legend", at.X, at.Y, v.cell.X, v.cell.Y, Ink{Fill: &white, Stroke: &black, Width: v.cell.X * 0.03})
			v.sign(t, at, &black)
		}})
	}
	if empty {
		items = append(items, legendItem{"no stitch", func(at Point) {
			v.box("legend", at.X, at.Y, v.cell.X, v.cell.Y, Ink{Fill: v.empty})
		}})
	}
	return items
}

func (v *view) markItems() []legendItem {
	counts := v.markCounts()
	twist := slices.ContainsFunc(v.k.Piece.State.Grips, func(g session.Grip) bool { return g.FloatMethod() == floats.Twist })
	var items []legendItem
	for state := range State(len(states)) {
		if counts[state] == 0 {
			continue
		}
		words := states[state].words
		if twist && !v.wrong {
			words += ", just before the stitch"
		}
		items = append(items, legendItem{words, func(at Point) {
			if state == Moved {
				v.line("legend", Ink{Stroke: &black, Width: v.cell.X * 0.08}, arrow(Point{at.X + v.cell.X*0.1, at.Y + v.cell.Y/2}, at.X+v.cell.X*0.9, min(v.cell.X, v.cell.Y)*0.18))
				return
			}
			ink := Ink{Fill: &pale, Stroke: &black, Width: v.cell.X * 0.08}
			v.markAt("legend", state, Point{at.X + v.cell.X/2, at.Y + v.cell.Y/2}, min(v.cell.X, v.cell.Y)*0.24, ink)
		}})
	}
	return items
}

// placeLegend sets legend items into lines of the given width and returns how high they are.
func (v *view) placeLegend(items []legendItem, top, width float64) float64 {
	text := v.legendLetter()
	lineHeight := max(v.cell.Y, text*1.2) * 1.25
	x, y := v.left, top
	for _, item := range items {
		sign := v.cell.X + text*0.5
		if item.draw == nil {
			sign = 0
		}
		lines := broken(item.text, text, width-sign)
		w := sign + textWidth(lines[0], text) + text*1.5
		if x > v.left && (x+w > v.left+width || len(lines) > 1) {
			x, y = v.left, y+lineHeight
		}
		if item.draw != nil {
			item.draw(Point{x, y})
		}
		for i, line := range lines {
			v.label("legend-text", x+sign, y+float64(i)*lineHeight+v.cell.Y/2+text*0.36, text, Start, line)
		}
		x += w
		if more := len(lines) - 1; more > 0 { // nothing stands beside it
			x, y = v.left+width, y+float64(more)*lineHeight
		}
	}
	return y + lineHeight - top
}

// broken is a text in lines that are estimated to fit the room: parted at blanks, and within a word wider
// than it.
func broken(text string, size, room float64) []string {
	lines := []string{""}
	for i, word := range strings.Split(text, " ") {
		last := &lines[len(lines)-1]
		if i > 0 && textWidth(*last+" "+word, size) <= room {
			*last += " " + word
			continue
		}
		if i > 0 {
			lines = append(lines, "")
		}
		for _, letter := range word {
			if last = &lines[len(lines)-1]; *last != "" && textWidth(*last+string(letter), size) > room {
				lines = append(lines, "")
				last = &lines[len(lines)-1]
			}
			*last += string(letter)
		}
	}
	return lines
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

// plural is a count with its noun: "1 catch", "3 catches"; none is "no catches".
func plural(n int, noun, many string) string {
	switch n {
	case 0:
		return "no " + many
	case 1:
		return "1 " + noun
	}
	return fmt.Sprintf("%d %s", n, many)
}
