package draw

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
	"strandwise/floats"
	"strandwise/session"
)

// legend sets signs and what they mean beside each other, line by line.
type legend struct {
	*view
	x, y        float64 // where the next stands
	width, line float64 // of a line, and how far below each other they are
}

// legend explains below the picture what it shows, and returns its height. The first part has the legend of all.
func (v *view) legend(top, width float64) float64 {
	shown := v.win
	if v.Compact {
		v.win = v.k.whole()
	}
	l := &legend{v, v.left, top, width, max(v.cell.Y, v.legendLetter()*1.2) * 1.25}
	switch gauge := v.k.gauge(); {
	case gauge.IsZero():
		l.item("No gauge is known: stitches are drawn square and there is no scale.", nil)
	case gauge.RowHeight() == 0:
		l.item("The gauge tells no rows, so stitches are drawn square.", nil)
	}
	l.yarnSigns()
	switch {
	case !v.wrong:
		l.stitchSigns()
	case len(v.k.Mends) > 0:
		width := v.least() * 0.15
		dashes := Ink{Stroke: &warningRed, Width: width * 1.33, Dash: width * 1.7}
		l.item("gap over the limit, with its number in the mending list", func(at Point) { v.sample(at, dashes) })
	}
	l.catchSigns()
	if v.meets() {
		l.item(fmt.Sprintf("thick line: the %ss above it are to come, as planned", v.k.rowWord()), nil)
	}
	l.item(fmt.Sprintf("bold at the side: the %s begins there", v.k.rowWord()), nil)
	l.item(v.k.rulerWords(v.win), nil)
	v.win = shown
	return l.y + l.line - top
}

// item sets a sign and its words. Draw gets the upper left corner of a box of the cell's size; nil leaves no room.
func (l *legend) item(text string, draw func(at Point)) {
	letter, sign := l.legendLetter(), 0.0
	if draw != nil {
		sign = l.cell.X + letter*0.5
	}
	lines := broken(text, letter, l.width-sign)
	w := sign + textWidth(lines[0], letter) + letter*1.5
	if l.x > l.left && (l.x+w > l.left+l.width || len(lines) > 1) {
		l.x, l.y = l.left, l.y+l.line
	}
	if draw != nil {
		draw(Point{l.x, l.y})
	}
	for i, line := range lines {
		l.label("legend-text", Point{l.x + sign, l.y + float64(i)*l.line + l.cell.Y/2 + letter*0.36}, letter, Start, line)
	}
	l.x += w
	if more := len(lines) - 1; more > 0 { // nothing stands beside it
		l.x, l.y = l.left+l.width, l.y+float64(more)*l.line
	}
}

func (l *legend) square(at Point, fill *chart.Color) {
	l.box("legend", at, l.cell.X, l.cell.Y, Ink{Fill: fill, Stroke: &black, Width: l.cell.X * 0.03})
}

func (l *legend) yarnSigns() {
	for i, yarn := range l.yarns {
		l.item(yarn.Name, func(at Point) {
			l.square(at, l.shown(i))
			if l.texture {
				l.ticks(i, at, against(*l.shown(i)))
			}
			if width := l.least() * 0.15; l.wrong {
				l.sample(at, Ink{Stroke: against(yarn.Color), Width: width * 1.6}, Ink{Stroke: &yarn.Color, Width: width})
			}
			if l.wrong && l.texture {
				l.strandTicks(i, at.plus(l.cell.X/2, l.cell.Y*0.65))
			}
		})
	}
}

func (v *view) sample(at Point, inks ...Ink) {
	for _, ink := range inks {
		v.curve("legend", ink, placed([]Point{{0, 0.3}, {0.5, 1}, {1, 0.3}}, at, v.cell))
	}
}

func (l *legend) stitchSigns() {
	used, empty := l.techniques()
	for _, t := range used {
		l.item(t.String(), func(at Point) {
			l.square(at, &white)
			l.sign(t, at, &black)
		})
	}
	if empty {
		l.item("no stitch", func(at Point) { l.box("legend", at, l.cell.X, l.cell.Y, Ink{Fill: l.empty}) })
	}
}

func (l *legend) catchSigns() {
	held := map[bool]bool{} // by twists
	for row := range l.rows() {
		if len(l.k.Marks[row-1]) > 0 {
			held[l.k.twist(row)] = true
		}
	}
	for _, twist := range []bool{false, true} {
		if l.wrong && held[twist] {
			l.item(grasps[twist].words, func(at Point) { l.graspSample(at, twist) })
		}
	}
	twist := slices.ContainsFunc(l.k.Piece.State.Grips, func(g session.Grip) bool { return g.FloatMethod() == floats.Twist })
	for state, n := range l.markCounts() {
		words := states[state].words
		if twist && !l.wrong {
			words += ", just before the stitch"
		}
		if n > 0 {
			l.item(words, func(at Point) { l.markSample(at, State(state)) })
		}
	}
}

func (v *view) markSample(at Point, state State) {
	ink := Ink{Fill: &pale, Stroke: &black, Width: v.cell.X * 0.08}
	if state == Moved {
		points := arrow(at.plus(v.cell.X*0.1, v.cell.Y/2), at.X+v.cell.X*0.9, v.least()*0.18)
		v.line("legend", Ink{Stroke: ink.Stroke, Width: ink.Width}, points)
		return
	}
	v.markAt("legend", state, at.plus(v.cell.X/2, v.cell.Y/2), v.least()*0.24, ink)
}

// broken is a text in lines estimated to fit the room, parted at blanks, and within a word wider than it.
func broken(text string, size, room float64) (lines []string) {
	for letters := []rune(text); len(letters) > 1 && textWidth(text, size) > room; letters = []rune(text) {
		end := 1
		for textWidth(string(letters[:end+1]), size) <= room {
			end++
		}
		line, rest := string(letters[:end]), string(letters[end:])
		if blank := strings.LastIndexByte(string(letters[:end+1]), ' '); blank > 0 {
			line, rest = text[:blank], text[blank+1:]
		}
		lines, text = append(lines, line), rest
	}
	return append(lines, text)
}

func (v *view) legendLetter() float64 { return max(v.letter, 2.6) }

// textWidth estimates a text's width, a little too wide for most letters; those of East Asia are about square.
func textWidth(text string, size float64) float64 { return float64(paint.Width(text)) * size * 0.56 }

// counted is a count with its noun: "1 catch"; none is "no catches".
func counted(n int, noun string) string {
	if n == 0 {
		return "no " + chart.Plural(noun, n)
	}
	return chart.Counted(n, noun)
}
