package floats

import (
	"cmp"
	"context"
	"slices"
)

// Plan is where to catch the floats of a piece.
type Plan struct {
	Limit   int
	Method  Method
	Catches []Catch // every catch, in every repeat, ordered by row, stitch, yarn
	Score   int     // lower is better; see the weights
	Bound   int     // no allowed plan scores lower
	Proven  bool    // the plan is best: Score equals Bound
}

// Task is what a plan is made for.
type Task struct {
	Limit     int // longest gap in stitches, at least 1
	Method    Method
	RestLimit int                // rows a yarn may rest without being cut
	Effort    int64              // steps of the proof for each stitch; 0 is the usual
	Progress  func(done, of int) // told now and then, may be nil
}

// Effort is bounded in steps, a step being about one entry of a table, and in stitches: a
// piece of up to bandStitches is planned as one, with as many steps however small it is,
// since small hard pieces are what needs them. A larger one is planned in bands of rows,
// so that time grows with the stitches and memory does not grow.
const (
	bandStitches = 160_000 // over all repeats
	usualEffort  = 1100

	ascentSweeps = 8 // up and down in turn; more raise the bound by little
	roundPasses  = 12
)

// MakePlan decides where to catch. Errors are ctx's, and a *BrokenRuleError, a fault of its own. The same
// fabric and task give the same plan on every run and machine. Time grows linearly with the stitches for
// a given limit; the proof is bounded by the effort.
func MakePlan(ctx context.Context, f *Fabric, t Task) (*Plan, error) {
	p := &Plan{Limit: t.Limit, Method: t.Method}
	var below []Catch
	for lo := 0; lo < len(f.Rows); {
		hi := f.bandFrom(lo)
		s := newSolver(ctx, f, t, lo, hi)
		if err := s.run(); err != nil {
			return nil, err
		}
		s.meet(below)
		below = s.md.catches(s.sets)
		p.Catches = append(p.Catches, below...)
		for _, component := range s.md.components() {
			p.Score += int(s.round.componentCost(component) / unit)
		}
		p.Bound += s.bound
		lo = hi
	}
	sortCatches(p.Catches)
	p.Proven = p.Bound == p.Score
	return p, f.Check(p.Catches, t)
}

func (f *Fabric) bandFrom(lo int) int {
	stitches, hi := 0, lo
	for hi < len(f.Rows) && (hi == lo || stitches+f.Rows[hi].Stitches() <= bandStitches) {
		stitches += f.Rows[hi].Stitches()
		hi++
	}
	return hi
}

// solver makes the plan of a band of rows: bound and prices by ascent, a first plan by
// rounding, then component by component a better plan and the proof. Bounds of bands add up to one
// of the piece, since what catches of two bands cost each other is never below 0.
type solver struct {
	ctx    context.Context
	md     *model
	task   Task
	ascent *ascent
	round  *rounding
	sets   assignment
	bound  int   // in points
	left   int64 // steps of the proof
}

func newSolver(ctx context.Context, f *Fabric, t Task, lo, hi int) *solver {
	md := newModel(f, t, lo, hi, true)
	a := &ascent{md: md, share: make([]int64, len(md.couplings)), cost: slices.Clone(md.own)}
	return &solver{ctx: ctx, md: md, task: t, round: newRounding(md), ascent: a, left: cmp.Or(t.Effort, usualEffort) * bandStitches}
}

func (s *solver) run() error {
	components := s.md.components()
	if err := s.draft(components); err != nil {
		return err
	}
	open := len(s.md.own)
	for _, component := range components {
		if err := s.prove(component, open); err != nil {
			return err
		}
		open -= s.md.cellsOf(component)
	}
	return nil
}

func (s *solver) meet(below []Catch) {
	low := s.md.priceBeside(below)
	s.round.improve(low, roundPasses)
	s.round.copyComponent(low, s.sets)
}

// progress tells how far the band is, in hundredths: the first half is the draft.
func (s *solver) progress(half, done, of int) {
	if s.task.Progress != nil {
		rows := len(s.md.fabric.Rows)
		percent := 50*half + 50*done/max(1, of)
		s.task.Progress((100*s.md.lo+percent*(s.md.hi-s.md.lo))/rows, 100)
	}
}

// draft finds prices and makes a plan that is allowed and good, without any proof.
func (s *solver) draft(components [][]int) error {
	for i := range ascentSweeps {
		if err := s.ctx.Err(); err != nil {
			return err
		}
		s.progress(0, i, ascentSweeps)
		s.ascent.sweep(i%2 == 0)
	}
	s.firstPlan(components)
	return nil
}

// firstPlan rounds both ways and keeps, component by component, the better.
func (s *solver) firstPlan(components [][]int) {
	s.sets = make(assignment, len(s.md.choices))
	least := make([]int64, len(components))
	for try, upward := range []bool{true, false} {
		s.round.settle(s.ascent, upward)
		for i, component := range components {
			s.round.improve(component, roundPasses)
			if cost := s.round.componentCost(component); try == 0 || cost < least[i] {
				least[i] = cost
				s.round.copyComponent(component, s.sets)
			}
		}
	}
	for _, component := range components {
		s.round.loadComponent(component, s.sets)
	}
}

// prove improves one component of the plan and raises its bound. open is the cells of the components
// not yet proven: of the steps left each has its share. In a band so dense that tables would be too
// large all keep the bound of the ascent.
func (s *solver) prove(component []int, open int) error {
	cells := s.md.cellsOf(component)
	lower := s.ascent.lower(component)
	if s.left > 0 && len(s.md.couplings) <= mostCouplings {
		effort := s.left * int64(cells) / int64(open)
		w := &work{s: s, component: component, effort: effort, proof: newProof(s.md, s.ascent, component, s.round.componentCost(component))}
		w.tell = func(spent float64) {
			s.progress(1, len(s.md.own)-open+int(float64(cells)*spent), len(s.md.own))
		}
		if err := w.run(); err != nil {
			return err
		}
		s.left = max(0, s.left-w.proof.spent)
		s.round.loadComponent(component, s.sets)
		if lower = w.proof.bound; w.proof.proven() {
			lower = w.proof.best
		}
	}
	s.bound += int((lower + unit - 1) / unit)
	return nil
}

// catches lists the catches of an assignment in every repeat.
func (md *model) catches(sets assignment) []Catch {
	var all []Catch
	for i := range md.choices {
		c := &md.choices[i]
		for _, fl := range md.copies(c) {
			for _, p := range sets[i] {
				all = append(all, md.fabric.catchOn(fl, int(p)))
			}
		}
	}
	sortCatches(all)
	return all
}

func sortCatches(all []Catch) {
	slices.SortFunc(all, func(a, b Catch) int {
		return cmp.Or(cmp.Compare(a.Row, b.Row), cmp.Compare(a.Stitch, b.Stitch), cmp.Compare(a.Yarn, b.Yarn))
	})
}
