package session

import (
	"strandwise/chart"
	"strandwise/floats"
)

// Uncast is a piece of one chart as it would be cast on, laid out and planned, nothing of it
// logged: for what is shown before anything is knitted. It belongs to no store. Errors are those
// of floats.Lay.
func Uncast(e *CastOn, c *chart.Chart, plan *floats.Plan) (*Piece, error) {
	s := &State{}
	e.apply(s, stamp{})
	layout, err := LayParts(e.Parts, func([32]byte) (*chart.Chart, error) { return c, nil }, floats.Work{Flat: e.Flat, Mirror: e.Mirror})
	if err != nil {
		return nil, err
	}
	return &Piece{State: s, Layout: layout, Schedule: NewSchedule(plan, len(layout.Fabric.Rows))}, nil
}
