package draw

import (
	"slices"

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

// states tell the states to a program that reads a drawing, in its legend, on a terminal, and by the
// shape of their signs: corners from the middle, in radii; none is a disc.
var states = [...]struct {
	fact, words string
	sign        rune
	corners     []Point
}{
	AsPlanned: {"planned-made", "catch, made as planned", 'o', nil},
	NotMade:   {"planned", "catch missed", 'x', []Point{{-0.9, -0.9}, {0.9, 0.9}, {}, {-0.9, 0.9}, {0.9, -0.9}}},
	Unplanned: {"made", "made, not planned here", '+', []Point{{-1.35, 0}, {0, -1.35}, {1.35, 0}, {0, 1.35}, {-1.35, 0}}},
	ToMake:    {"to-make", "catch to make", 'o', []Point{{-0.95, -0.95}, {0.95, -0.95}, {0.95, 0.95}, {-0.95, 0.95}, {-0.95, -0.95}}},
	Moved:     {"planned-moved", "catch moved, from where it was planned", '<', nil}, // an arrow: move
}

// String is the word for the state in the facts of a drawing.
func (s State) String() string { return states[s].fact }

// entry is the edge between columns at which a stitch over all repeats, from 1, is entered.
func (v *view) entry(row, stitch int) float64 {
	column := float64(session.ColumnOf(v.row(row), stitch) - 1)
	if v.row(row).FromLeft {
		return column + 1
	}
	return column
}

// onward is +1 where the row goes towards higher columns, else -1.
func (v *view) onward(row int) float64 {
	if v.row(row).FromLeft {
		return -1
	}
	return 1
}

// anchor is where a catch holds its yarn: in the middle of its stitch, or for a twist just
// before it.
func (v *view) anchor(row, stitch int) float64 {
	if v.k.twist(row) {
		return v.entry(row, stitch)
	}
	return v.entry(row, stitch) + v.onward(row)/2
}

// sees reports whether something between two edges shows in the window.
func (v *view) sees(a, b float64) bool {
	return max(a, b) > float64(v.win.columnFrom)-0.5 && min(a, b) < float64(v.win.columnTo)+1.5
}

// mark draws a catch with its state told by its shape, and where there is room with its letter:
// on its sign, but beside a cross on the rest of its stitch, which a twist before it has not.
func (v *view) mark(m Mark, row int, at Point, radius float64, ink Ink) {
	data := append(v.k.spotData(row, m.Stitch, m.Yarn), Datum{"letter", m.Letter}, Datum{"catch", m.State.String()})
	size, lettered := max(v.least, radius*1.45), v.lettered() && m.Letter != ""
	radius = max(radius, v.least*0.45)
	switch {
	case m.State == Moved:
		v.move(m, row, at, radius, ink, data)
	case !lettered || m.State == NotMade && v.k.twist(row):
		v.markAt("catch", m.State, at, radius, ink, data...)
	case m.State == NotMade:
		radius *= 0.7
		v.markAt("catch", m.State, at, radius, ink, data...)
		v.text("letter", Point{at.X + radius, at.Y}, size, Start, m.Letter, true, ink.Stroke)
	default:
		v.markAt("catch", m.State, at, radius, ink, data...)
		v.text("letter", Point{at.X, at.Y + size*0.3}, size, Middle, m.Letter, true, against(*ink.Fill))
	}
}

// lettered reports whether stitches are large enough for letters on their catches.
func (v *view) lettered() bool { return min(v.cell.X, v.cell.Y) >= letteredCell }

// letteredCell is the least width and height of such a stitch in mm: our choice.
const letteredCell = 3.5

// markAt draws the sign of a state: a disc where a catch was made as planned, a cross where
// it was missed, a diamond where it was made and not planned, a square where it
// is to be made.
func (v *view) markAt(class string, state State, at Point, radius float64, ink Ink, data ...Datum) {
	corners := slices.Clone(states[state].corners)
	for i, c := range corners {
		corners[i] = Point{at.X + c.X*radius, at.Y + c.Y*radius}
	}
	switch state {
	case AsPlanned:
		v.disc(class, at.X, at.Y, radius, ink, data...)
	case NotMade:
		v.line(class, Ink{Stroke: ink.Stroke, Width: radius * 0.5}, corners, data...)
	default:
		v.line(class, ink, corners, data...)
	}
}

// move draws the arrow of a catch that was moved, from where it was planned to the sign of where it
// was made, so that a cross is left for those that were missed. It lies on what sets it off, and
// behind it where there is room stands its letter.
func (v *view) move(m Mark, row int, at Point, radius float64, ink Ink, data []Datum) {
	onward, align := 1.0, End
	to := v.x(v.anchor(row, m.To))
	if to < at.X {
		onward, align = -1, Start
	}
	points, width := arrow(at, to-onward*radius*1.4, radius*0.6), radius*0.4
	v.line("move-edge", Ink{Stroke: against(*ink.Stroke), Width: width * 2.2}, points)
	v.line("catch", Ink{Stroke: ink.Stroke, Width: width}, points, data...)
	if v.lettered() && m.Letter != "" && !v.k.twist(row) {
		v.text("letter", Point{at.X - onward*radius*0.4, at.Y}, max(v.least, radius*1.3), align, m.Letter, true, ink.Stroke)
	}
}

// arrow goes level from a point to an x; its tail is a stroke across.
func arrow(from Point, to, size float64) []Point {
	back := size
	if to > from.X {
		back = -size
	}
	y := from.Y
	return []Point{{from.X, y - size}, {from.X, y + size}, from, {to, y}, {to + back, y - size}, {to, y}, {to + back, y + size}}
}

// eachMark visits the catches of a row that show, with the edge between columns they stand at
// and how they share their place.
func (v *view) eachMark(row int, do func(m Mark, edge float64, s share)) {
	marks := v.k.Marks[row-1]
	for i, m := range marks {
		from, to := i, i+1
		for ; from > 0 && marks[from-1].Stitch == m.Stitch; from-- {
		}
		for ; to < len(marks) && marks[to].Stitch == m.Stitch; to++ {
		}
		if m.Stitch > v.row(row).Stitches() {
			continue
		}
		if edge := v.anchor(row, m.Stitch); v.sees(edge, edge) {
			do(m, edge, share{i - from, to - from})
		}
	}
}

// signClasses are what signs are made of, the lowest first.
var signClasses = []string{"move-edge", "catch", "letter"}

// catches marks the catches, filled with the color of the yarn caught; on the wrong side below what
// holds the strands.
func (v *view) catches() {
	size, low, alone := min(v.cell.X, v.cell.Y), 0.5, v.markRadius()
	if v.wrong {
		low, alone = 0.79, alone*0.65
	}
	v.eachRow(func(row int, r *floats.Row) {
		v.eachMark(row, func(m Mark, edge float64, s share) {
			stitch := r.Stitch(m.Stitch)
			off, radius := s.place(size, alone)
			ink := Ink{Fill: &v.yarns[m.Yarn].Color, Stroke: against(v.shown(stitch.Yarn)), Width: radius * 0.3}
			v.mark(m, row, Point{v.x(edge) + off.X, v.y(row) + v.cell.Y*low + off.Y}, radius, ink)
		})
	})
}

// markRadius is that of the sign of a catch: larger where its letter stands on it.
func (v *view) markRadius() float64 {
	if v.lettered() {
		return min(v.cell.X, v.cell.Y) * 0.33
	}
	return min(v.cell.X, v.cell.Y) * 0.24
}

// share tells which of how many catches at one stitch a catch is, from 0.
type share struct{ at, of int }

// place is how far a sign lies off the middle of its stitch, and its radius: that of one alone,
// or as it fits beside the others along the diagonal.
func (s share) place(cell, alone float64) (off Point, radius float64) {
	if s.of < 2 {
		return off, alone
	}
	along := float64(2*s.at)/float64(s.of-1) - 1
	return Point{-0.2 * along * cell, 0.17 * along * cell}, 0.24 / float64(s.of-1) * cell
}

// markCounts counts the catches of the window by state.
func (v *view) markCounts() (counts [len(states)]int) {
	for row := v.win.rowFrom; row <= v.win.rowTo; row++ {
		for _, m := range v.k.Marks[row-1] {
			counts[m.State]++
		}
	}
	return counts
}

// holds reports whether a strand is held in the window by twists, or by weaves.
func (v *view) holds(twist bool) bool {
	for row := v.win.rowFrom; row <= v.win.rowTo; row++ {
		if v.k.twist(row) == twist && len(v.k.Marks[row-1]) > 0 {
			return true
		}
	}
	return false
}
