package session

import (
	"slices"

	"strandwise/floats"
)

// Piece is a piece ready to be worked: its log, its layout, and where its floats are to be caught.
type Piece struct {
	State    *State
	Layout   *Layout
	Schedule *Schedule

	former map[uint64]*floats.Fabric // as it was laid when an event was logged, by its number; nil until it is remembered
	known  pieceMemo
}

// pieceMemo is what follows from a state and a plan, as far as it was asked for.
type pieceMemo struct {
	state *State
	plan  *Schedule
	ahead []rowAhead // index 0 is the next row
	seats []placing  // index 0 is row 1
}

// rowAhead is a row to come.
type rowAhead struct {
	shown   []Mark
	planned []Mark // before anything was made otherwise: the plan's, or those it was begun with where kept
	kept    bool   // it is begun with other catches than those that would be chosen by now
}

func (p *Piece) memo() *pieceMemo {
	if p.known.state != p.State || p.known.plan != p.Schedule {
		p.known = pieceMemo{state: p.State, plan: p.Schedule}
	}
	return &p.known
}

// Row gives a row of the fabric. Rows count from 1.
func (p *Piece) Row(row int) *floats.Row { return &p.Layout.Fabric.Rows[row-1] }

// Rows is the number of rows of the piece.
func (p *Piece) Rows() int { return len(p.Layout.Fabric.Rows) }

func (p *Piece) yarnName(yarn int) string { return p.Layout.Fabric.Yarns[yarn].Name }

func (p *Piece) yarnNames() []string {
	var names []string
	for _, y := range p.Layout.Fabric.Yarns {
		names = append(names, y.Name)
	}
	return names
}

func (p *Piece) rowWord() string { return RowWord(!p.Layout.Fabric.Flat) }

// Shown gives the catches of a row as the knitter is shown them, in knitting order, for all that show a row
// or log it: a finished row has the catches it was worked from; a row that is begun those it was begun with;
// a row to come the plan's, chosen anew where the row below was caught otherwise, or will be when all rows
// up to it are worked as shown. The time is linear in the stitches of the rows that depart from the plan.
func (p *Piece) Shown(row int) []Mark {
	if row <= p.State.Row {
		return p.State.DoneRow(row).Shown
	}
	return p.ahead(row).shown
}

func (p *Piece) ahead(row int) rowAhead {
	known := p.memo()
	for next := p.State.Row + 1 + len(known.ahead); next <= row; next++ {
		r := rowAhead{shown: p.chosen(next), planned: p.Schedule.Row(next)}
		if begun := p.State.OnNeedle; begun != nil && begun.Row == next {
			if r.kept = !slices.Equal(begun.Shown, r.shown); r.kept {
				r.planned = begun.Shown
			}
			r.shown = begun.Shown
		}
		known.ahead = append(known.ahead, r)
	}
	return known.ahead[row-p.State.Row-1]
}

// made gives the catches made in a finished row, and of a row to come those shown.
func (p *Piece) made(row int) []Mark {
	if row <= p.State.Row {
		return p.State.DoneRow(row).Used
	}
	return p.Shown(row)
}

// chosen gives the catches of a row above the one below it as that was made: the plan's
// where that row was caught as planned, and by the same method.
func (p *Piece) chosen(row int) []Mark {
	if row == 1 {
		return p.Schedule.Row(1)
	}
	below := p.made(row - 1)
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

// deviation is what a row is chosen anew against.
func (p *Piece) deviation(row int, below []Mark) floats.Deviation {
	return floats.Deviation{
		Task:  p.State.Task(),
		Row:   row - 1,
		Below: asCatches(row-2, below),
		Made:  p.State.GripAt(row - 1).FloatMethod(),
		Plan:  func(r int) []floats.Catch { return asCatches(r, p.Schedule.Row(r+1)) },
	}
}

// asCatches turns the marks of a row (index from 0) into catches.
func asCatches(row int, marks []Mark) []floats.Catch {
	catches := make([]floats.Catch, len(marks))
	for i, m := range marks {
		catches[i] = floats.Catch{Row: row, Stitch: m.Stitch, Yarn: m.Yarn}
	}
	return catches
}

// AsPlanned gives the catches of a row before anything was made otherwise: of a finished row those
// it was worked from, of one that an older plan shaped those it was begun with, else the plan's.
func (p *Piece) AsPlanned(row int) []Mark {
	if row <= p.State.Row {
		return p.Shown(row)
	}
	return p.ahead(row).planned
}

// Departs reports whether the catches of a row to come are not the plan's.
func (p *Piece) Departs(row int) bool { return !slices.Equal(p.Shown(row), p.AsPlanned(row)) }

// Knit gives the event that finishes the row to work, which there must be, as shown but for the changes.
func (p *Piece) Knit(c Changes) *RowKnit {
	row := p.State.Row + 1
	e := &RowKnit{Row: row, Shown: p.Shown(row), Used: p.Shown(row)}
	if c = c.InOrder(); c.Any() {
		e.Changes, e.Used = &c, c.applied(e.Shown)
	}
	return e
}

// KnitTo gives the events that log the rows up to one, that one too, as knitted without the program.
func (p *Piece) KnitTo(to int) []Event {
	var events []Event
	for row := p.State.Row + 1; row <= to; row++ {
		events = append(events, &RowKnit{Row: row, Shown: p.Shown(row), Used: p.Shown(row), Unwitnessed: true})
	}
	return events
}

// Pause gives the event that keeps the place in the row to work, after so many stitches
// over the whole row: the first one begins the row. There must be such a row.
func (p *Piece) Pause(stitch int) Event {
	if stitch == 0 || p.State.OnNeedle != nil {
		return &Paused{Stitch: stitch}
	}
	row := p.State.Row + 1
	return &RowBegun{Row: row, Stitch: stitch, Shown: p.Shown(row), Method: p.State.GripAt(row).FloatMethod()}
}

// Uncast is a piece as it would be cast on, laid out and not planned: for what is shown before anything is
// knitted. It belongs to no store. Errors are those of State.Lay.
func Uncast(e *CastOn, charts Charts) (*Piece, error) {
	s := &State{}
	e.apply(s, nil)
	layout, err := s.Lay(charts)
	return &Piece{State: s, Layout: layout}, err
}
