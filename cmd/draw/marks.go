package draw

import (
	"iter"
	"math"
	"slices"

	"strandwise/chart"
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
