package draw

import (
	"fmt"

	"strandwise/chart"
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

// window is the part of a piece that one picture shows: rows from 1 and columns from 0,
// both ends in.
type window struct{ rowFrom, rowTo, columnFrom, columnTo int }

func (w window) rows() int    { return w.rowTo - w.rowFrom + 1 }
func (w window) columns() int { return w.columnTo - w.columnFrom + 1 }

// whole is the window onto everything.
func (k *Knitted) whole() window { return window{k.Begin, k.Rows, 0, k.Columns() - 1} }

// view draws a window of a piece.
type view struct {
	*Scene
	k         *Knitted
	win       window
	wrong     bool
	inches    bool
	cell      Point   // width and height of a stitch as drawn
	letter    float64 // size of the numbers
	left, top float64 // upper left corner of the stitches
	texture   bool    // yarns too alike in gray are told apart by ticks
}

// x is the place of an edge between columns: edge c lies between columns c-1 and c, counted
// from 0. It takes fractions.
func (v *view) x(edge float64) float64 {
	if v.wrong {
		return v.left + (edge-float64(v.win.columnFrom))*v.cell.X
	}
	return v.left + (float64(v.win.columnTo+1)-edge)*v.cell.X
}

// y is the upper edge of a row.
func (v *view) y(row int) float64 { return v.top + float64(v.win.rowTo-row)*v.cell.Y }

func (v *view) bodyWidth() float64  { return float64(v.win.columns()) * v.cell.X }
func (v *view) bodyHeight() float64 { return float64(v.win.rows()) * v.cell.Y }

// eachRow visits the rows of the window from below.
func (v *view) eachRow(do func(row int, r *floats.Row)) {
	for row := v.win.rowFrom; row <= v.win.rowTo; row++ {
		do(row, v.k.Piece.Row(row))
	}
}

// cells draws the stitches, run by run.
func (v *view) cells() {
	yarns := v.k.Piece.Layout.Fabric.Yarns
	v.eachRow(func(row int, r *floats.Row) {
		end := min(v.win.columnTo+1, r.Columns())
		for c := v.win.columnFrom; c < end; {
			from, yarn := c, cellAt(r, c).Yarn
			for c++; c < end && cellAt(r, c).Yarn == yarn; c++ {
				continue
			}
			fill := Pale
			if yarn != chart.NoYarn {
				fill = v.shown(yarns[yarn].Color)
			}
			v.span(row, from, c, fill)
		}
	})
}

// shown is a yarn's color as its stitches are drawn: on the wrong side they step back
// behind the strands.
func (v *view) shown(c chart.Color) chart.Color {
	if v.wrong {
		return washed(c, 0.45)
	}
	return c
}

// span fills the columns from one up to another.
func (v *view) span(row, from, to int, fill chart.Color) {
	a, b := v.x(float64(from)), v.x(float64(to))
	v.box("stitches", min(a, b), v.y(row), max(a, b)-min(a, b), v.cell.Y, Ink{Fill: &fill})
}

func cellAt(r *floats.Row, column int) chart.Cell { return r.Cells[column%len(r.Cells)] }

// grid draws the lines between stitches, every fifth stronger. Neighbouring rows of as many
// columns share their lines.
func (v *view) grid() {
	thin, thick := Ink{Stroke: &gray, Width: v.cell.X * 0.015}, Ink{Stroke: &Black, Width: v.cell.X * 0.04}
	for row := v.win.rowFrom; row <= v.win.rowTo; {
		from, columns := row, v.k.Piece.Row(row).Columns()
		for row++; row <= v.win.rowTo && v.k.Piece.Row(row).Columns() == columns; row++ {
			continue
		}
		end := min(columns, v.win.columnTo+1)
		for _, strong := range []bool{false, true} {
			ink := thin
			if strong {
				ink = thick
			}
			for c := v.win.columnFrom; c <= end; c++ {
				if (c%5 == 0 || c == end) == strong {
					v.line("grid", ink, Point{v.x(float64(c)), v.y(from - 1)}, Point{v.x(float64(c)), v.y(row - 1)})
				}
			}
			for r := from - 1; r < row; r++ {
				if (r%5 == 0 || r == row-1 && row > v.win.rowTo) == strong {
					v.line("grid", ink, Point{v.x(float64(v.win.columnFrom)), v.y(r)}, Point{v.x(float64(end)), v.y(r)})
				}
			}
		}
	}
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
	v.add(Shape{Kind: Label, Class: "number", Points: []Point{{x, y}}, Size: v.letter, Align: align, Text: text, Bold: bold, Ink: Ink{Fill: &Black}})
}

// entry is where a stitch is entered and exit where it is left, as edges of columns; across is
// the stitch over all repeats, from 1.
func (v *view) entry(row, stitch int) float64 {
	column := float64(session.ColumnOf(v.k.Piece.Row(row), stitch) - 1)
	if v.k.Piece.Row(row).FromLeft {
		return column + 1
	}
	return column
}

// onward is +1 where the row goes towards higher columns, else -1.
func (v *view) onward(row int) float64 {
	if v.k.Piece.Row(row).FromLeft {
		return -1
	}
	return 1
}

func (v *view) exit(row, stitch int) float64 { return v.entry(row, stitch) + v.onward(row) }

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
