package floats

import "slices"

// work leads the proof of one part: sweeps, better plans, longer lists, and at the
// end elimination, within an effort counted in steps.
type work struct {
	s      *solver
	part   []int
	proof  *proof
	effort int64
	alone  bool // groups of floats gained nothing over floats alone
}

const (
	firstLabels   = 12  // sets listed of each float at first
	mostInGroup   = 600 // variables eliminated together
	sweepsARound  = 6
	stalled       = 20 // a round that closes less than one part in so many of the gap
	mostRounds    = 60
	groupPasses   = 3
	eliminateCost = 40_000_000 // steps one elimination may take
)

func newWork(s *solver, part []int, scratch []int64) *work {
	best := s.round.partCost(part)
	cells := 0
	for _, i := range part {
		cells += s.md.choices[i].Length
	}
	effort := s.task.Effort
	if effort == 0 {
		effort = usualEffort
	}
	return &work{
		s: s, part: part, effort: effort * int64(max(leastCells, cells)),
		proof: newProof(s.md, s.ascent, part, best, firstLabels, scratch),
	}
}

func (w *work) run() error {
	p := w.proof
	for round := 0; round < mostRounds && p.spent < w.effort && !p.proven(); round++ {
		if err := w.s.ctx.Err(); err != nil {
			return err
		}
		bound, best := p.bound, p.best
		for i := 0; i < sweepsARound && !p.proven(); i++ {
			p.sweep(i%2 == 0)
		}
		w.better(round%2 == 0)
		if p.proven() || w.finish() {
			return nil
		}
		if (p.bound-bound)*stalled >= p.best-p.bound {
			continue
		}
		w.together()
		if !p.grow(firstLabels<<min(round, 4)) && p.bound-bound < unit && p.best == best {
			return nil // what is left neither moves nor can be eliminated
		}
	}
	return nil
}

// better rounds the labels to a plan and keeps it if it scores less.
func (w *work) better(upward bool) {
	if w.proof.proven() {
		return
	}
	for k, label := range w.proof.roundLabels(upward) {
		w.s.round.put(w.part[k], w.proof.vars[k].sets[label])
	}
	w.s.round.improve(w.open(), roundPasses)
	w.keep()
}

// together improves the plan by groups of floats, unless that was of no use the last
// time.
func (w *work) together() {
	if w.alone {
		return
	}
	before, open := w.proof.best, w.open()
	for range groupPasses {
		if !w.s.round.regroup(open) {
			break
		}
		w.s.round.improve(open, roundPasses)
	}
	w.keep()
	w.alone = w.proof.best == before
}

// open lists the choices that are not settled together with all their neighbours.
func (w *work) open() []int {
	var open []int
	for _, i := range w.proof.active {
		open = append(open, w.part[i])
	}
	return open
}

// keep takes over the rounding's sets for this part when they score less.
func (w *work) keep() {
	if cost := w.s.round.partCost(w.part); cost < w.proof.best {
		w.s.tell(w.proof.best - cost)
		w.proof.best = cost
		w.s.round.copyPart(w.part, w.s.sets)
	}
}

// finish eliminates the groups of variables that are left, where that is possible.
// When all are settled the part is solved.
func (w *work) finish() bool {
	p := w.proof
	changed, solved := false, true
	for _, group := range p.groups() {
		if len(group) <= mostInGroup && !p.anyOthers(group) && p.eliminate(group, eliminateCost) {
			changed = true
			continue
		}
		solved = false
	}
	if solved && !p.anyOthers(nil) {
		w.takeLast()
		p.bound = p.best
		return true
	}
	if changed {
		p.refresh()
	}
	p.retire()
	return p.proven()
}

// takeLast tries the one plan that is left.
func (w *work) takeLast() {
	for k, v := range w.proof.vars {
		w.s.round.put(w.part[k], v.sets[v.alive[0]])
	}
	w.keep()
}

// anyOthers reports whether the label "any other set" is still open in a group, or
// in any variable when the group is nil.
func (p *proof) anyOthers(group []int32) bool {
	if group == nil {
		return slices.ContainsFunc(p.vars, (*variable).open)
	}
	return slices.ContainsFunc(group, func(i int32) bool { return p.vars[i].open() })
}

// groups lists the variables that are not settled, those joined by edges together.
func (p *proof) groups() [][]int32 {
	seen := make([]bool, len(p.vars))
	var groups [][]int32
	for i, v := range p.vars {
		if seen[i] || v.settled() {
			continue
		}
		seen[i] = true
		group := []int32{int32(i)}
		for at := 0; at < len(group); at++ {
			for _, k := range p.vars[group[at]].edges {
				e := p.edges[k]
				other := e.lo + e.hi - group[at]
				if !seen[other] && !p.vars[other].settled() {
					seen[other] = true
					group = append(group, other)
				}
			}
		}
		slices.Sort(group)
		groups = append(groups, group)
	}
	return groups
}

// roundLabels picks a label for each variable in turn, the best against those
// picked before and what the others may still cost.
func (p *proof) roundLabels(upward bool) []int16 {
	picked := make([]int16, len(p.vars))
	for i, v := range p.vars {
		picked[i] = v.alive[0] // of those that are settled; the others are picked below
	}
	n := len(p.active)
	for j := range n {
		i := p.active[j]
		if !upward {
			i = p.active[n-1-j]
		}
		picked[i] = p.pick(i, picked, upward)
	}
	return picked
}

func (p *proof) pick(i int32, picked []int16, upward bool) int16 {
	v := p.vars[i]
	cost := append([]int64(nil), v.theta...)
	for _, k := range v.edges {
		e := p.edges[k]
		low := e.lo == i
		if low == upward { // the other side is still open
			least := p.leastByLabel(v, e, low)
			for _, s := range v.alive {
				cost[s] += least[s]
			}
			continue
		}
		for _, s := range v.alive {
			cost[s] += e.with(low, s, picked)
		}
	}
	best, least := int16(0), far
	for _, s := range v.alive {
		if s != v.others && cost[s] < least {
			best, least = s, cost[s]
		}
	}
	return best
}

// with is the edge's cost with a label of one side and the other side as picked.
func (e *edge) with(low bool, s int16, picked []int16) int64 {
	if low {
		t := picked[e.hi]
		return e.base[int(s)*e.hiAt+int(t)] + e.fromLo[s] + e.fromHi[t]
	}
	t := picked[e.lo]
	return e.base[int(t)*e.hiAt+int(s)] + e.fromLo[t] + e.fromHi[s]
}
