package floats

import "slices"

// work leads the proof of one part: sweeps, better plans, longer lists, and at the
// end elimination, within an effort counted in steps.
type work struct {
	s      *solver
	part   []int
	proof  *proof // nil where the effort does not go so far
	cost   int64  // of the plan in hand, with all its choices are coupled with
	effort int64
	from   int  // cells of the band settled before
	cut    bool // coupled with other blocks
}

const (
	firstLabels   = 12      // sets listed of each float at first
	maxTable      = 1 << 20 // entries of a table made by elimination
	mostInGroup   = 600     // variables eliminated together
	sweepsARound  = 6
	stalled       = 20 // a round that closes less than one part in so many of the gap
	mostRounds    = 60
	eliminateCost = 40_000_000    // steps one elimination may take
	roundCost     = 200           // steps that rounding a variable counts for
	mostEntries   = 6 << 20       // entries of a table that the proof of a block holds
	listEntries   = 6             // entries that a set begun, and waiting in its list, counts for
	listSteps     = 8             // beginning a set
	fillSteps     = 4             // working out one entry of a table
	setupSteps    = 2 * fillSteps // setting up the proof and a round of it, for each entry of its tables; with fewer the bound stays what the ascent left
)

// lower is a bound of the block in units, what its couplings to earlier blocks are shared
// out as taken off, so that blocks add up.
func (w *work) lower() int64 {
	p, a := w.proof, w.s.ascent
	if p == nil {
		return a.lower(w.part)
	}
	lower := p.bound
	switch {
	case p.proven() && w.cut: // costs with shares are no whole points
		lower = max(lower, p.best-unit+1)
	case p.proven():
		lower = p.best
	}
	return min(lower, p.best) - a.shares(w.part, func(i int, e end) bool { return !w.s.md.together(i, e) })
}

// tell tells how far the block is by what it has spent of its effort.
func (w *work) tell() {
	cells := int64(w.s.md.cellsOf(w.part))
	w.s.progress(1, w.from+int(cells*min(w.proof.spent, w.effort)/max(1, w.effort)), len(w.s.md.own))
}

func (w *work) run(scratch []int64) error {
	w.effort = max(w.effort, setupSteps*int64(w.s.md.entriesOf(w.part)))
	if w.effort > w.s.left {
		return nil
	}
	w.cost = w.s.round.partCost(w.part)
	w.proof = newProof(w.s.md, w.s.ascent, w.part, w.s.round.blockCost(w.s.ascent, w.part), firstLabels, scratch)
	p := w.proof
	for round := 0; round < mostRounds && p.spent < w.effort && !p.proven(); round++ {
		if err := w.s.ctx.Err(); err != nil {
			return err
		}
		w.tell()
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
	w.weigh()
	var open []int
	for _, i := range w.proof.active {
		open = append(open, w.part[i])
	}
	w.s.round.improve(open, roundPasses)
	w.proof.spent += roundCost * int64(len(w.proof.active))
	w.keep()
}

// weigh takes the sets of the block for its best by itself if they are.
func (w *work) weigh() {
	w.proof.best = min(w.proof.best, w.s.round.blockCost(w.s.ascent, w.part))
}

// keep takes over the rounding's sets for this block when they score less.
func (w *work) keep() {
	w.weigh()
	if cost := w.s.round.partCost(w.part); cost < w.cost {
		w.s.tell(w.cost - cost)
		w.cost = cost
		w.s.round.copyPart(w.part, w.s.sets)
	}
}

// finish eliminates the groups of variables that are left, where that is possible.
// When all are settled the part is solved.
func (w *work) finish() bool {
	p := w.proof
	changed, solved := false, true
	for _, group := range p.groups() {
		if len(group) <= mostInGroup && !slices.ContainsFunc(group, func(i int32) bool { return p.vars[i].open() }) && p.eliminate(group, min(eliminateCost, w.effort-p.spent)) {
			changed = true
			continue
		}
		solved = false
	}
	if solved && !slices.ContainsFunc(p.vars, (*variable).open) {
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
	w.s.round.improve(w.part, roundPasses) // against the blocks around it
	w.keep()
}

// groups lists the variables that are not settled, those joined by edges together.
func (p *proof) groups() [][]int32 {
	settled := make([]bool, len(p.vars))
	for i, v := range p.vars {
		settled[i] = v.settled()
	}
	return components(settled, func(i int32, also func(int32)) {
		for _, k := range p.vars[i].edges {
			also(p.edges[k].lo + p.edges[k].hi - i)
		}
	})
}

// roundLabels picks a label for each variable in turn, the best against those
// picked before and what the others may still cost.
func (p *proof) roundLabels(upward bool) []int16 {
	picked := make([]int16, len(p.vars))
	for i, v := range p.vars {
		picked[i] = v.alive[0] // of those that are settled; the others are picked below
	}
	for j := range p.active {
		i := inTurn(p.active, j, upward)
		picked[i] = p.pick(i, picked, upward)
	}
	return picked
}

func (p *proof) pick(i int32, picked []int16, upward bool) int16 {
	v := p.vars[i]
	cost := slices.Clone(v.theta)
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
			if low {
				cost[s] += e.cost(s, picked[e.hi])
			} else {
				cost[s] += e.cost(picked[e.lo], s)
			}
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
