package floats

import "slices"

// proof closes the gap between plan and bound on one component of a piece: choices that
// are joined by couplings, apart from all others.
//
// In each sweep a variable collects what its edges can give for each of its labels (the
// least over the other side), compares, and hands equal portions on to the edges ahead.
// Amounts are only moved, so that at any time
//
//	bound = sum of the variables' minima + sum of the edges' minima + rest
//
// is a true lower bound, with nothing rounded. When a variable has collected, the bound
// with one of its labels fixed is known as well; a label that cannot beat the plan in hand
// is ruled out for good.
type proof struct {
	md     *model
	ascent *ascent
	vars   []*variable // ordered as the choices
	edges  []*edge
	rest   int64 // what belongs to no label: the shares taken off the total
	bound  int64 // in units
	best   int64 // cost of the component in the plan in hand, in units
	spent  int64 // steps
}

// newProof sets up a component from its choices (ascending) and its cost in the plan in hand.
func newProof(md *model, a *ascent, component []int, best int64) *proof {
	p := &proof{md: md, ascent: a, best: best}
	for _, c := range component {
		p.vars = append(p.vars, p.newVariable(c))
	}
	for _, v := range p.vars {
		p.join(v)
	}
	p.refresh()
	return p
}

// join makes the edges of a variable to later ones whose cells are coupled with its own. The
// price of the labels holds each share twice, once for each cell, and the total once.
func (p *proof) join(v *variable) {
	c, known := &p.md.choices[v.choice], map[int32]bool{}
	for cell := c.node; cell < c.node+c.Length; cell++ {
		for _, x := range p.md.endsIn(cell, c.node+c.Length, len(p.md.own)) {
			p.rest -= p.ascent.share[x.coupling]
			owner := p.md.owner[x.cell]
			if known[owner] {
				continue
			}
			known[owner] = true
			at, _ := slices.BinarySearchFunc(p.vars, int(owner), func(v *variable, choice int) int { return v.choice - choice })
			e := &edge{vars: [2]*variable{v, p.vars[at]}}
			for side, u := range e.vars {
				u.edges = append(u.edges, link{e, side})
				e.from[side] = make([]int64, len(u.sets))
			}
			p.edges = append(p.edges, e)
			p.fill(e)
		}
	}
}

// refresh sums the bound anew after labels were added or settled from outside.
func (p *proof) refresh() {
	p.bound = p.rest
	for _, v := range p.vars {
		v.settle()
		p.bound += v.minimum
	}
	for _, e := range p.edges {
		e.minimum = far
		for _, s := range e.vars[0].alive {
			e.minimum = min(e.minimum, link{e, 0}.leastWith(s, e.vars[1].alive))
		}
		p.bound += e.minimum
		p.spent += e.entries()
	}
}

func (e *edge) entries() int64 { return int64(len(e.vars[0].alive) * len(e.vars[1].alive)) }

func (p *proof) proven() bool { return p.bound > p.best-unit }

func (p *proof) sweep(upward bool) {
	for i := 0; i < len(p.vars) && !p.proven(); i++ {
		p.visit(inTurn(p.vars, i, upward), upward)
	}
}

func (p *proof) visit(v *variable, upward bool) {
	ahead := 0
	for _, l := range v.edges {
		p.take(v, l)
		if l.ahead(upward) {
			ahead++
		}
	}
	p.settle(v)
	p.ruleOut(v)
	if p.proven() || ahead == 0 {
		return
	}
	share := int64(max(ahead, len(v.edges)-ahead))
	for _, l := range v.edges {
		if l.ahead(upward) {
			p.hand(v, l, share)
		}
	}
	for _, s := range v.alive {
		v.theta[s] -= int64(ahead) * (v.theta[s] / share)
	}
	p.settle(v)
}

// take moves to each label what the edge costs at least with it.
func (p *proof) take(v *variable, l link) {
	for _, s := range v.alive {
		least := l.leastWith(s, l.other().alive)
		v.theta[s] += least
		l.from[l.side][s] -= least
	}
	p.bound -= l.minimum
	l.minimum = 0
	p.spent += l.entries()
}

// hand gives the edge a portion of each label's cost. The edge, just collected,
// costs at least 0 with each label, so its least is the least portion.
func (p *proof) hand(v *variable, l link, share int64) {
	least := far
	for _, s := range v.alive {
		portion := v.theta[s] / share
		l.from[l.side][s] += portion
		least = min(least, portion)
	}
	l.minimum = least
	p.bound += least
}

func (p *proof) settle(v *variable) {
	p.bound -= v.minimum
	v.settle()
	p.bound += v.minimum
}

// ruleOut drops the labels that cannot beat the plan in hand. Where none is left, nothing does.
func (p *proof) ruleOut(v *variable) {
	without := p.bound - v.minimum
	v.alive = slices.DeleteFunc(v.alive, func(s int16) bool {
		return without+v.theta[s] > p.best-unit
	})
	if p.settle(v); len(v.alive) == 0 {
		p.bound = p.best
	}
}

// grow lists more sets of the open variables, if there is room, and tells whether there were any.
func (p *proof) grow(more int) bool {
	for ; p.held(more) > mostEntries; more /= 2 {
		if more == 0 {
			return false
		}
	}
	grown := map[*variable]bool{}
	for _, v := range p.vars {
		if v.open() {
			p.split(v, more)
			grown[v] = true
		}
	}
	for _, e := range p.edges {
		if grown[e.vars[0]] || grown[e.vars[1]] {
			p.fill(e)
		}
	}
	p.refresh()
	return len(grown) > 0
}

func (p *proof) held(more int) int {
	size := func(v *variable) int {
		if v.open() {
			return len(v.sets) + more
		}
		return len(v.sets)
	}
	entries := 0
	for _, v := range p.vars {
		entries += listEntries * v.list.begun * size(v) / len(v.sets)
	}
	for _, e := range p.edges {
		entries += size(e.vars[0]) * size(e.vars[1])
	}
	return entries
}
