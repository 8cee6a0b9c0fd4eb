package session

import (
	"crypto/sha256"
	"errors"
	"slices"

	"strandwise/chart"
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
	return mapped(p.Layout.Fabric.Yarns, func(y chart.Yarn) string { return y.Name })
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
	return mapped(catches, func(c floats.Catch) Mark { return Mark{c.Stitch, c.Yarn} })
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
	return mapped(marks, func(m Mark) floats.Catch { return floats.Catch{Row: row, Stitch: m.Stitch, Yarn: m.Yarn} })
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

// Schedule is a plan by row: what is kept of it between steps.
type Schedule struct {
	Limit  int
	Method floats.Method
	Score  int
	Bound  int

	rows [][]Mark // index 0 is row 1
}

// NewSchedule sorts a plan by row. Rows is the number of rows of the piece.
func NewSchedule(p *floats.Plan, rows int) *Schedule {
	s := &Schedule{Limit: p.Limit, Method: p.Method, Score: p.Score, Bound: p.Bound, rows: make([][]Mark, rows)}
	for _, c := range p.Catches {
		s.rows[c.Row] = append(s.rows[c.Row], Mark{c.Stitch, c.Yarn})
	}
	return s
}

// Proven reports whether no allowed plan scores lower.
func (s *Schedule) Proven() bool { return s.Score == s.Bound }

// Row gives the planned catches of a row, from 1, in knitting order.
func (s *Schedule) Row(row int) []Mark {
	if row < 1 || row > len(s.rows) {
		return nil
	}
	return s.rows[row-1]
}

// Rows is the number of rows.
func (s *Schedule) Rows() int { return len(s.rows) }

// Check holds the schedule against the rules of a plan: one that was kept and breaks them is made anew.
func (s *Schedule) Check(f *floats.Fabric, t floats.Task) error {
	if s.Rows() != len(f.Rows) || s.Limit != t.Limit || s.Method != t.Method {
		return errors.New("a schedule of another piece")
	}
	var catches []floats.Catch
	for row := 1; row <= s.Rows(); row++ {
		catches = append(catches, asCatches(row-1, s.Row(row))...)
	}
	return f.Check(catches, t)
}

// scheduleVersion changes whenever the bytes below change or the planner may plan the same
// piece otherwise at the same weights: plans kept before are then made anew.
const scheduleVersion = 6

// Bytes is the schedule as it is kept; ReadSchedule is the inverse.
func (s *Schedule) Bytes() []byte {
	w := &wire{writing: true}
	s.fields(w)
	return w.b
}

// ReadSchedule reads a schedule that was kept; of other bytes it reports false: the plan is made anew.
func ReadSchedule(b []byte) (*Schedule, bool) {
	s, w := &Schedule{}, &wire{b: b}
	s.fields(w)
	return s, w.end(0) == nil
}

func (s *Schedule) fields(w *wire) {
	version := scheduleVersion
	if w.int(&version); version != scheduleVersion {
		w.fail("a schedule of another version")
	}
	w.int(&s.Limit)
	w.method(&s.Method)
	w.int(&s.Score)
	w.int(&s.Bound)
	list(w, &s.rows, 1, w.marks)
}

// PlanKey is the digest of all that the plan in force is made from: the parts of every segment, how the
// piece is worked, and the weights of the score. It stays from version to version as long as these do: the
// plan of a piece in work is then the one that its cards were printed from.
func (s *State) PlanKey() [32]byte {
	w, version, method := &wire{writing: true, b: []byte("plan")}, scheduleVersion, s.Setup.FloatMethod()
	w.int(&version)
	for _, weight := range floats.Weights {
		w.int(&weight.Points)
	}
	for _, seg := range s.Segments {
		blocks := partsHaveBlocks(seg.Parts)
		if w.int(&seg.From); blocks {
			w.b = append(w.b, "blocks"...)
		}
		w.parts(&seg.Parts, blocks)
	}
	w.int(&s.Setup.Limit)
	w.int(&s.Setup.RestLimit)
	w.flags(&s.Setup.Flat, &s.Setup.Mirror)
	w.method(&method)
	return sha256.Sum256(w.b)
}

// Task is what the plan in force is made for.
func (s *State) Task() floats.Task {
	return floats.Task{Limit: s.Setup.Limit, Method: s.Setup.FloatMethod(), RestLimit: s.Setup.RestLimit}
}
