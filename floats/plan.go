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

// usualEffort is the steps of the proof for each cell of the model, a step being
// one entry of a table; a part of fewer cells than leastCells gets the effort of so
// many, since small hard parts are what needs it.
const (
	usualEffort = 4000
	leastCells  = 75_000
)

const (
	ascentSweeps = 8 // up and down in turn; more raise the bound by little
	roundPasses  = 12
)

// MakePlan decides where to catch. It returns ctx's error when cancelled. The same
// fabric and task give the same plan on every run and machine. Time grows linearly
// with the stitches for a given limit; the proof is bounded by the effort.
func MakePlan(ctx context.Context, f *Fabric, t Task) (*Plan, error) {
	s := newSolver(ctx, f, t)
	if err := s.run(); err != nil {
		return nil, err
	}
	score := int(s.md.total(s.sets) / unit)
	p := &Plan{
		Limit: t.Limit, Method: t.Method, Catches: s.md.catches(s.sets),
		Score: score, Bound: s.bound, Proven: s.bound == score,
	}
	return p, f.Check(p.Catches, t)
}

// solver makes a plan: bound and prices by ascent, a first plan by rounding, then
// part by part a better plan and the proof.
type solver struct {
	ctx    context.Context
	md     *model
	task   Task
	ascent *ascent
	round  *rounding
	sets   assignment
	bound  int                // in points
	watch  func(gained int64) // told, in units, when a plan is in hand (0) and by how much each better one is; may be nil
}

func newSolver(ctx context.Context, f *Fabric, t Task) *solver {
	md := newModel(f, t.Limit, t.Method, t.RestLimit)
	return &solver{ctx: ctx, md: md, task: t, round: newRounding(md), ascent: newAscent(md)}
}

func (s *solver) run() error {
	parts := s.md.parts()
	if err := s.draft(parts); err != nil {
		return err
	}
	scratch := make([]int64, len(s.md.own))
	for i, part := range parts {
		if err := s.ctx.Err(); err != nil {
			return err
		}
		if s.task.Progress != nil {
			s.task.Progress(i, len(parts))
		}
		if err := s.prove(part, scratch); err != nil {
			return err
		}
	}
	return nil
}

// draft finds prices and makes a plan that is allowed and good, without any proof.
func (s *solver) draft(parts [][]int) error {
	for i := range ascentSweeps {
		if err := s.ctx.Err(); err != nil {
			return err
		}
		s.ascent.sweep(i%2 == 0)
	}
	s.firstPlan(parts)
	s.tell(0)
	return nil
}

func (s *solver) tell(gained int64) {
	if s.watch != nil {
		s.watch(gained)
	}
}

// firstPlan rounds both ways and keeps, part by part, the better.
func (s *solver) firstPlan(parts [][]int) {
	s.sets = make(assignment, len(s.md.choices))
	least := make([]int64, len(parts))
	for try, upward := range []bool{true, false} {
		s.round.settle(s.ascent, upward)
		for i, part := range parts {
			s.round.improve(part, roundPasses)
			if cost := s.round.partCost(part); try == 0 || cost < least[i] {
				least[i] = cost
				s.round.copyPart(part, s.sets)
			}
		}
	}
	for _, part := range parts {
		s.round.loadPart(part, s.sets)
	}
}

// prove improves one part of the plan and raises its bound.
func (s *solver) prove(part []int, scratch []int64) error {
	w := newWork(s, part, scratch)
	if err := w.run(); err != nil {
		return err
	}
	s.round.loadPart(part, s.sets)
	s.bound += int((w.proof.lower() + unit - 1) / unit)
	return nil
}

// lower is the proven bound of the part in units.
func (p *proof) lower() int64 {
	if p.proven() {
		return p.best
	}
	return p.bound
}

// catches lists the catches of an assignment in every repeat.
func (md *model) catches(sets assignment) []Catch {
	var all []Catch
	for i := range md.choices {
		c := &md.choices[i]
		for rep := range c.stand {
			for _, p := range sets[i] {
				at := md.siteOf(c, int(p), rep)
				all = append(all, Catch{at.row, at.stitch + 1, c.Yarn})
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
