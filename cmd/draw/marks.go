package draw

import (
	"fmt"
	"iter"
	"math"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
	"strandwise/floats"
	"strandwise/session"
)

// Mark is a catch to be drawn.
type Mark struct {
	session.Mark
	State  State
	Letter string // by which it is known in its row; empty for an extra one
	To     int    // the stitch on which it was made, where it was moved
}

// State tells what became of a catch.
type State uint8

// The states.
const (
	AsPlanned State = iota // shown and made
	NotMade                // shown and missed
	Unplanned              // made, not shown on this stitch
	ToMake                 // of a row to come
	Moved                  // shown, and made on another stitch
)

// states tell the states to a program that reads a drawing, in its legend, on a terminal, and by the corners of their
// signs from the middle, in radii: a cross, a diamond, a square. One made as planned is a disc, one moved an arrow.
var states = [...]struct {
	fact, words string
	sign        rune
	corners     []Point
}{
	AsPlanned: {"planned-made", "catch, made as planned", 'o', nil},
	NotMade:   {"planned", "catch missed", 'x', []Point{{-0.9, -0.9}, {0.9, 0.9}, {}, {-0.9, 0.9}, {0.9, -0.9}}},
	Unplanned: {"made", "made, not planned here", '+', []Point{{-1.35, 0}, {0, -1.35}, {1.35, 0}, {0, 1.35}, {-1.35, 0}}},
	ToMake:    {"to-make", "catch to make", 'o', []Point{{-0.95, -0.95}, {0.95, -0.95}, {0.95, 0.95}, {-0.95, 0.95}, {-0.95, -0.95}}},
	Moved:     {"planned-moved", "catch moved, from where it was planned", '<', nil},
}

// String is the word for the state in the facts of a drawing.
func (s State) String() string { return states[s].fact }

// entry is the edge between columns at which a stitch over all repeats, from 1, is entered.
func (v *view) entry(row, stitch int) float64 {
	return v.middle(row, stitch) - v.onward(row)/2
}

func (v *view) middle(row, stitch int) float64 {
	return float64(session.ColumnOf(v.row(row), stitch)) - 0.5
}

// onward is +1 where the row goes towards higher columns, else -1.
func (v *view) onward(row int) float64 {
	if v.row(row).FromLeft {
		return -1
	}
	return 1
}

// anchor is where a catch holds its yarn: in the middle of its stitch, or for a twist just before it.
func (v *view) anchor(row, stitch int) float64 {
	if v.k.twist(row) {
		return v.entry(row, stitch)
	}
	return v.middle(row, stitch)
}

func (v *view) sees(a, b float64) bool {
	return max(a, b) > float64(v.win.columnFrom)-0.5 && min(a, b) < float64(v.win.columnTo)+1.5
}

// catches are filled with the color of the yarn caught; on the wrong side they lie below what holds the strands.
func (v *view) catches() {
	low, alone := 0.5, v.least()*0.24
	if v.lettered() {
		alone = v.least() * 0.33
	}
	if v.wrong {
		low, alone = 0.79, alone*0.65
	}
	for row, r := range v.rows() {
		for m, s := range v.marks(row) {
			off, radius := s.place(v.least(), alone)
			ink := Ink{Fill: &v.yarns[m.Yarn].Color, Stroke: against(*v.shown(r.Stitch(m.Stitch).Yarn)), Width: radius * 0.3}
			v.mark(m, row, off.plus(v.x(v.anchor(row, m.Stitch)), v.y(row)+v.cell.Y*low), radius, ink)
		}
	}
}

// marks are the catches of a row that show, and how each shares its place.
func (v *view) marks(row int) iter.Seq2[Mark, share] {
	return func(do func(Mark, share) bool) {
		all := v.k.Marks[row-1]
		for i, m := range all {
			at := func(other Mark) bool { return other.Stitch == m.Stitch }
			from := slices.IndexFunc(all, at)
			s := share{i - from, 0}
			for s.of = 1; from+s.of < len(all) && at(all[from+s.of]); s.of++ {
				continue
			}
			if edge := v.anchor(row, m.Stitch); m.Stitch <= v.row(row).Stitches() && v.sees(edge, edge) && !do(m, s) {
				return
			}
		}
	}
}

// share tells which of how many catches at one stitch a catch is, from 0.
type share struct{ at, of int }

// place is how far a sign lies off the middle of its stitch, along the diagonal beside others, and its radius.
func (s share) place(cell, alone float64) (off Point, radius float64) {
	if s.of < 2 {
		return off, alone
	}
	along := float64(2*s.at)/float64(s.of-1) - 1
	return Point{-0.2 * along * cell, 0.17 * along * cell}, 0.24 / float64(s.of-1) * cell
}

// mark draws a catch, its state told by its shape, and where there is room its letter: on its sign, but beside a
// cross and behind an arrow on the rest of their stitch, which a twist before it has not.
func (v *view) mark(m Mark, row int, at Point, radius float64, ink Ink) {
	data := append(v.k.spotData(row, m.Stitch, m.Yarn), Datum{"letter", m.Letter}, Datum{"catch", m.State.String()})
	lettered, twist := v.lettered() && m.Letter != "", v.k.twist(row)
	radius = max(radius, v.small*0.45)
	letter := func(x, y, size float64, align Align, color *chart.Color) {
		v.text("letter", at.plus(x, y), max(size, v.small), align, m.Letter, color).Bold = true
	}
	switch {
	case m.State == Moved:
		onward, align := 1.0, End
		to := v.x(v.anchor(row, m.To))
		if to < at.X {
			onward, align = -1, Start
		}
		points, width := arrow(at, to-onward*radius*1.4, radius*0.6), radius*0.4
		v.line("move-edge", Ink{Stroke: against(*ink.Stroke), Width: width * 2.2}, points)
		v.line("catch", Ink{Stroke: ink.Stroke, Width: width}, points, data...)
		if lettered && !twist {
			letter(-onward*radius*0.4, 0, radius*1.3, align, ink.Stroke)
		}
	case m.State == NotMade && lettered && !twist:
		v.markAt("catch", m.State, at, radius*0.7, ink, data...)
		letter(radius*0.7, 0, radius*1.45, Start, ink.Stroke)
	default:
		v.markAt("catch", m.State, at, radius, ink, data...)
		if lettered && m.State != NotMade {
			letter(0, max(radius*0.435, v.small*0.3), radius*1.45, Middle, against(*ink.Fill))
		}
	}
}

// lettered reports whether stitches are large enough for letters on their catches: our choice.
func (v *view) lettered() bool { return v.least() >= 3.5 }

func (v *view) markAt(class string, state State, at Point, radius float64, ink Ink, data ...Datum) {
	if state == AsPlanned {
		v.disc(class, at, radius, ink, data...)
		return
	}
	if state == NotMade {
		ink = Ink{Stroke: ink.Stroke, Width: radius * 0.5}
	}
	v.line(class, ink, placed(states[state].corners, at, Point{radius, radius}), data...)
}

// arrow goes level from a point to an x; its tail is a stroke across.
func arrow(from Point, to, size float64) []Point {
	y, back := from.Y, math.Copysign(size, from.X-to)
	return []Point{{from.X, y - size}, {from.X, y + size}, from, {to, y}, {to + back, y - size}, {to, y}, {to + back, y + size}}
}

func (v *view) markCounts() (counts [len(states)]int) {
	for row := range v.rows() {
		for _, m := range v.k.Marks[row-1] {
			counts[m.State]++
		}
	}
	return counts
}

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
