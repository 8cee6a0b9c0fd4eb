package floats

import "slices"

// work leads the proof of one component within an effort counted in steps.
type work struct {
	s         *solver
	component []int
	proof     *proof
	effort    int64
	tell      func(share float64) // how much of the effort is spent
}

const (
	firstLabels   = 12 // sets listed of each float at first, doubled a few times
	mostDoublings = 4
	maxTable      = 1 << 20 // entries of a table made by elimination
	mostInGroup   = 600     // variables eliminated together
	eliminateCost = 1 << 25 // steps one elimination may take, and so the entries of its tables
	sweepsARound  = 6
	roundCost     = 200     // steps that rounding a variable counts for
	mostEntries   = 7 << 20 // entries of tables that the proof of a component holds
	listEntries   = 6       // entries that a set begun counts for
	mostCouplings = 500_000 // of a band that is proven at all
)

// run goes on until the plan is proven, or what is left neither moves nor can be eliminated.
func (w *work) run() error {
	p := w.proof
	for round := 0; p.spent < w.effort && !p.proven(); round++ {
		if err := w.s.ctx.Err(); err != nil {
			return err
		}
		w.tell(min(1, float64(p.spent)/float64(w.effort)))
		bound, best := p.bound, p.best
		for i := 0; i < sweepsARound && !p.proven(); i++ {
			p.sweep(i%2 == 0)
		}
		w.better(round%2 == 0)
		if p.proven() || w.finish() {
			return nil
		}
		if !p.grow(firstLabels<<min(round, mostDoublings)) && p.bound-bound < unit && p.best == best {
			return nil
		}
	}
	return nil
}

func (w *work) better(upward bool) {
	p, open := w.proof, []int(nil)
	if p.proven() {
		return
	}
	for i, label := range p.roundLabels(upward) {
		v := p.vars[i]
		w.s.round.put(v.choice, v.sets[label])
		if !v.settled() {
			open = append(open, v.choice)
		}
	}
	w.s.round.improve(open, roundPasses)
	p.spent += roundCost * int64(len(open))
	w.keep()
}

func (w *work) keep() {
	if cost := w.s.round.componentCost(w.component); cost < w.proof.best {
		w.proof.best = cost
		w.s.round.copyComponent(w.component, w.s.sets)
	}
}

// finish eliminates the groups of variables that are left, where that is possible.
func (w *work) finish() bool {
	p := w.proof
	changed := false
	for _, group := range p.groups() {
		if len(group) <= mostInGroup && !slices.ContainsFunc(group, func(i int) bool { return p.vars[i].open() }) && p.eliminate(group, min(eliminateCost, w.effort-p.spent)) {
			changed = true
		}
	}
	if !slices.ContainsFunc(p.vars, func(v *variable) bool { return !v.settled() }) {
		for _, v := range p.vars { // the one plan that is left
			w.s.round.put(v.choice, v.sets[v.alive[0]])
		}
		w.keep()
		p.bound = p.best
		return true
	}
	if changed {
		p.refresh()
	}
	return p.proven()
}

func (p *proof) groups() [][]int {
	settled := make([]bool, len(p.vars))
	for i, v := range p.vars {
		settled[i] = v.settled()
	}
	return joined(settled, func(i int, also func(int)) {
		for _, l := range p.vars[i].edges {
			also(l.other().at)
		}
	})
}

// roundLabels picks for each variable the best label against those picked and what others may cost.
func (p *proof) roundLabels(upward bool) []int16 {
	picked := make([]int16, len(p.vars))
	for i := range p.vars {
		v := inTurn(p.vars, i, upward)
		least := far
		for _, s := range v.alive {
			if s == v.others {
				continue
			}
			cost := v.theta[s]
			for _, l := range v.edges {
				others := l.other().alive
				if !l.ahead(upward) {
					others = picked[l.other().at:][:1]
				}
				cost += l.leastWith(s, others)
			}
			if cost < least {
				picked[v.at], least = s, cost
			}
		}
	}
	return picked
}
