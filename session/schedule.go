package session

import (
	"crypto/sha256"
	"encoding/json"
	"errors"

	"strandwise/floats"
)

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

// PlanKey is the digest of all that the plan in force is made from: the parts of
// every segment, how the piece is worked, and the weights of the score.
func (s *State) PlanKey() [32]byte {
	t := s.Task()
	from := []any{scheduleVersion, floats.Weights, t.Limit, t.Method, t.RestLimit, s.Setup.Flat, s.Setup.Mirror}
	for _, seg := range s.Segments {
		from = append(from, seg.From, seg.Parts)
	}
	text, err := json.Marshal(from)
	if err != nil {
		panic("session: parts that JSON cannot say: " + err.Error())
	}
	return sha256.Sum256(text)
}

// Task is what the plan in force is made for.
func (s *State) Task() floats.Task {
	return floats.Task{Limit: s.Setup.Limit, Method: s.Setup.FloatMethod(), RestLimit: s.Setup.RestLimit}
}
