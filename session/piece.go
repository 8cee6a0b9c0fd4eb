package session

import (
	"slices"

	"strandwise/floats"
)

// Piece is a piece ready to be worked: what its log says, how it is laid out, and
// where its floats are to be caught.
type Piece struct {
	State    *State
	Layout   *Layout
	Schedule *Schedule

	eras  []era           // which plans were in force when, once they are remembered
	seats map[int]seating // by row, from 1, those that were asked for
}

// Row gives a row of the fabric. Rows count from 1.
func (p *Piece) Row(row int) *floats.Row { return &p.Layout.Fabric.Rows[row-1] }

// Rows is the number of rows of the piece.
func (p *Piece) Rows() int { return len(p.Layout.Fabric.Rows) }

// Shown gives the catches of a row as the knitter is shown them, in knitting order:
// of a finished row those it was worked from, of the row to work next the plan's,
// chosen anew where the row below was caught otherwise, and of a later row the
// plan's.
func (p *Piece) Shown(row int) []Mark {
	switch {
	case row <= p.State.Row:
		done := p.State.DoneRow(row)
		return done.Shown
	case row == p.State.Row+1 && row > 1:
		return p.adjusted(row, p.State.DoneRow(row-1).Used)
	}
	return p.Schedule.Row(row)
}

// Preview gives the catches of rows to come as they will be shown if every row
// before them is worked as shown. The result has one list for each row from the next
// one up to the row given.
func (p *Piece) Preview(to int) [][]Mark {
	var shown [][]Mark
	for row := p.State.Row + 1; row <= to; row++ {
		marks := p.Shown(row)
		if n := len(shown); n > 0 {
			marks = p.adjusted(row, shown[n-1])
		}
		shown = append(shown, marks)
	}
	return shown
}

// adjusted gives the catches of a row above one that was caught as given: the plan's
// where that row was caught as planned, and by the same method.
func (p *Piece) adjusted(row int, below []Mark) []Mark {
	alike := p.State.GripAt(row-1).FloatMethod() == p.State.GripAt(row).FloatMethod()
	if alike && slices.Equal(below, p.Schedule.Row(row-1)) {
		return p.Schedule.Row(row)
	}
	catches := p.Layout.Fabric.Adjust(p.deviation(row, below))
	marks := make([]Mark, len(catches))
	for i, c := range catches {
		marks[i] = Mark{c.Stitch, c.Yarn}
	}
	return marks
}

// asCatches turns the marks of a row (index from 0) into catches.
func asCatches(row int, marks []Mark) []floats.Catch {
	catches := make([]floats.Catch, len(marks))
	for i, m := range marks {
		catches[i] = floats.Catch{Row: row, Stitch: m.Stitch, Yarn: m.Yarn}
	}
	return catches
}
