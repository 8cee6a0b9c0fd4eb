package draw

import (
	"fmt"

	"strandwise/floats"
	"strandwise/session"
)

// Side is the side of the fabric that a picture shows.
type Side uint8

// The sides.
const (
	RightSide Side = iota // as a chart: column 1 at the right
	WrongSide             // as it lies in the hand turned over: column 1 at the left
)

// String is the word for the side on the command line.
func (s Side) String() string { return [...]string{"right", "wrong"}[s] }

// whole is the window onto everything.
func (k *Knitted) whole() window { return window{k.Begin, k.Rows, 0, k.Columns() - 1} }

// view draws a window of a piece.
type view struct {
	grid
	k      *Knitted
	inches bool
	letter float64 // size of the numbers
}

// numbers sets the row numbers at both sides, bold where the row begins, and the number of
// every fifth column below.
func (v *view) numbers() {
	every := v.every()
	v.eachRow(func(row int, r *floats.Row) {
		if row%every != 0 && row != v.win.rowFrom && row != v.win.rowTo {
			return
		}
		beginsLeft := r.FromLeft != v.wrong
		base := v.y(row) + v.cell.Y/2 + v.letter*0.36
		v.number(v.left-v.rim(), base, End, fmt.Sprint(row), beginsLeft)
		v.number(v.left+v.bodyWidth()+v.rim(), base, Start, fmt.Sprint(row), !beginsLeft)
	})
	for c := v.win.columnFrom; c <= v.win.columnTo; c++ {
		if (c+1)%5 == 0 || c == 0 {
			v.number(v.x(float64(c)+0.5), v.top+v.bodyHeight()+v.letter*1.2, Middle, fmt.Sprint(c+1), false)
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

// every is how far apart numbered rows are: each, where the rows are high enough.
func (v *view) every() int {
	if v.cell.Y >= v.letter*1.05 {
		return 1
	}
	return 5
}

func (v *view) number(x, y float64, align Align, text string, bold bool) {
	v.text("number", Point{x, y}, v.letter, align, text, bold, &Black)
}

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

// mark draws a catch with its state told by its shape.
func (v *view) mark(m Mark, row int, at Point, radius float64, ink Ink) {
	data := append(v.k.spotData(row, m.Stitch, m.Yarn), Datum{"catch", m.State.String()})
	v.markAt("catch", m.State, at, radius, ink, data...)
}

// markAt draws the sign of a state: a disc where a catch was made as planned, a cross where
// it was planned and not made, a diamond where it was made and not planned.
func (v *view) markAt(class string, state State, at Point, radius float64, ink Ink, data ...Datum) {
	switch state {
	case NotMade:
		r := radius * 0.9
		v.add(Shape{
			Kind: Line, Class: class, Ink: Ink{Stroke: ink.Stroke, Width: radius * 0.5}, Data: data,
			Points: []Point{{at.X - r, at.Y - r}, {at.X + r, at.Y + r}, at, {at.X - r, at.Y + r}, {at.X + r, at.Y - r}},
		})
	case Unplanned:
		r := radius * 1.35
		v.add(Shape{
			Kind: Line, Class: class, Ink: ink, Data: data,
			Points: []Point{{at.X - r, at.Y}, {at.X, at.Y - r}, {at.X + r, at.Y}, {at.X, at.Y + r}, {at.X - r, at.Y}},
		})
	default:
		v.disc(class, at.X, at.Y, radius, ink, data...)
	}
}

// eachMark visits the catches of a row that show, with the edge between columns they stand at.
func (v *view) eachMark(row int, do func(m Mark, edge float64)) {
	for _, m := range v.k.Marks[row-1] {
		if m.Stitch > v.row(row).Stitches() {
			continue
		}
		if edge := v.anchor(row, m.Stitch); v.sees(edge, edge) {
			do(m, edge)
		}
	}
}

// catchesOnChart marks the catches, filled with the color of the yarn caught.
func (v *view) catchesOnChart() {
	radius := min(v.cell.X, v.cell.Y) * 0.24
	v.eachRow(func(row int, r *floats.Row) {
		v.eachMark(row, func(m Mark, edge float64) {
			stitch := r.InOrder()[(m.Stitch-1)%r.RepeatStitches()]
			ink := Ink{Fill: &v.yarns[m.Yarn].Color, Stroke: against(v.yarns[stitch.Yarn].Color), Width: radius * 0.4}
			v.mark(m, row, Point{v.x(edge), v.y(row) + v.cell.Y/2}, radius, ink)
		})
	})
}
