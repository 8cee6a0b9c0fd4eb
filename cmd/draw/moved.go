package draw

import (
	"slices"

	"strandwise/session"
)

// A catch that was moved is an arrow from where it was planned to the sign of where it was made,
// so that a cross is left for those that were missed.

// markMoves tells the catches that were moved from those that were missed.
func markMoves(marks []Mark, moves []session.Move) {
	for _, m := range moves {
		at := slices.IndexFunc(marks, func(x Mark) bool { return x.Mark == m.From && x.State == NotMade })
		if at >= 0 {
			marks[at].State, marks[at].To = Moved, m.To.Stitch
		}
	}
}

// move draws the arrow of a catch, on what sets it off, and behind it where there is room its
// letter.
func (v *view) move(m Mark, row int, at Point, radius float64, ink Ink, data []Datum) {
	onward, to := 1.0, v.x(v.anchor(row, m.To))
	if to < at.X {
		onward = -1
	}
	points, width := arrow(at, to-onward*radius*1.4, radius*0.6), radius*0.4
	v.line("move-edge", Ink{Stroke: against(*ink.Stroke), Width: width * 2.2}, points...)
	v.add(Shape{Kind: Line, Class: "catch", Points: points, Radius: radius, Ink: Ink{Stroke: ink.Stroke, Width: width}, Data: data})
	if v.lettered() && m.Letter != "" && !v.k.twist(row) {
		align := End
		if onward < 0 {
			align = Start
		}
		v.text("letter", Point{at.X - onward*radius*0.4, at.Y}, radius*1.3, align, m.Letter, true, ink.Stroke)
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
