package floats

import "slices"

// proof closes the gap between plan and bound on one part of a piece: choices that
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
	md      *model
	ascent  *ascent
	vars    []*variable // ordered as the choices
	edges   []*edge
	rest    int64   // what belongs to no label: the shares taken off the total
	bound   int64   // in units
	best    int64   // cost of the plan in hand, in units
	scratch []int64 // by cell, all 0 between uses
	spent   int64   // steps
	collect []int64
	chosen  []int   // by variable, all 0 between uses
	active  []int32 // variables with something left to decide on their edges, ascending
	bad     bool    // a variable lost all labels: nothing beats the plan in hand
}

// newProof sets up a part from its choices (ascending) and the cost of its part of
// the plan in hand.
func newProof(md *model, a *ascent, part []int, best int64, labels int, scratch []int64) *proof {
	p := &proof{md: md, ascent: a, best: best, scratch: scratch, chosen: make([]int, len(part))}
	for _, c := range part {
		p.vars = append(p.vars, p.newVariable(c, labels))
	}
	p.gatherEdges(part)
	p.refresh()
	p.retire()
	return p
}

// gatherEdges joins the variables whose cells are coupled. The price of the labels holds
// each share twice, once for each cell, and the total once.
func (p *proof) gatherEdges(part []int) {
	for i, v := range p.vars {
		c := &p.md.choices[v.choice]
		known := map[int32]bool{}
		for cell := c.node; cell < c.node+c.Length; cell++ {
			for _, x := range p.md.endsOf(cell) {
				other := p.md.owner[x.cell]
				if int(other) <= v.choice || !p.md.together(v.choice, x) {
					continue
				}
				p.rest -= p.ascent.share[x.coupling]
				if !known[other] {
					known[other] = true
					j, _ := slices.BinarySearch(part, int(other))
					p.join(int32(i), int32(j))
				}
			}
		}
	}
}

func (p *proof) join(lo, hi int32) {
	e := &edge{lo: lo, hi: hi}
	for _, v := range []*variable{p.vars[lo], p.vars[hi]} {
		v.edges = append(v.edges, int32(len(p.edges)))
	}
	p.edges = append(p.edges, e)
	e.fill(p)
	e.fromLo, e.fromHi = make([]int64, e.loAt), make([]int64, e.hiAt)
}

// refresh sums the bound anew after labels were added or settled from outside.
func (p *proof) refresh() {
	p.bound = p.rest
	for _, v := range p.vars {
		v.settle()
		p.bound += v.minimum
	}
	for _, e := range p.edges {
		lo, hi := p.vars[e.lo].alive, p.vars[e.hi].alive
		p.spent += int64(len(lo) * len(hi))
		e.minimum = far
		for _, s := range lo {
			for _, t := range hi {
				e.minimum = min(e.minimum, e.cost(s, t))
			}
		}
		p.bound += e.minimum
	}
}

// proven reports whether no plan of the part scores less than the one in hand.
func (p *proof) proven() bool { return p.bad || p.bound > p.best-unit }

func (p *proof) sweep(upward bool) {
	for j := range p.active {
		p.visit(inTurn(p.active, j, upward), upward)
		if p.proven() {
			return
		}
	}
}

func (p *proof) visit(i int32, upward bool) {
	v := p.vars[i]
	ahead := 0
	for _, k := range v.edges {
		p.take(v, p.edges[k], i == p.edges[k].lo)
		if (p.edges[k].lo == i) == upward {
			ahead++
		}
	}
	p.settle(v)
	p.ruleOut(v)
	if p.bad || ahead == 0 {
		return
	}
	share := int64(max(ahead, len(v.edges)-ahead))
	for _, k := range v.edges {
		if (p.edges[k].lo == i) == upward {
			p.hand(v, p.edges[k], i == p.edges[k].lo, share)
		}
	}
	for _, s := range v.alive {
		v.theta[s] -= int64(ahead) * (v.theta[s] / share)
	}
	p.settle(v)
}

// take moves to each label what the edge costs at least with it.
func (p *proof) take(v *variable, e *edge, low bool) {
	least := p.leastByLabel(v, e, low)
	mine := *e.side(low)
	for _, s := range v.alive {
		v.theta[s] += least[s]
		mine[s] -= least[s]
	}
	p.bound -= e.minimum
	e.minimum = 0
	p.spent += int64(len(p.vars[e.lo].alive) * len(p.vars[e.hi].alive))
}

func (e *edge) side(low bool) *[]int64 {
	if low {
		return &e.fromLo
	}
	return &e.fromHi
}

func (p *proof) leastByLabel(v *variable, e *edge, low bool) []int64 {
	p.collect = grow(p.collect, len(v.sets))
	if !low {
		for _, t := range v.alive {
			p.collect[t] = far
		}
		for _, s := range p.vars[e.lo].alive {
			row, from := e.base[int(s)*e.hiAt:], e.fromLo[s]
			for _, t := range v.alive {
				p.collect[t] = min(p.collect[t], row[t]+from+e.fromHi[t])
			}
		}
		return p.collect
	}
	for _, s := range v.alive {
		row, least := e.base[int(s)*e.hiAt:], far
		for _, t := range p.vars[e.hi].alive {
			least = min(least, row[t]+e.fromHi[t])
		}
		p.collect[s] = least + e.fromLo[s]
	}
	return p.collect
}

// hand gives the edge a portion of each label's cost. The edge, just collected,
// costs at least 0 with each label, so its least is the least portion.
func (p *proof) hand(v *variable, e *edge, low bool, share int64) {
	mine, least := *e.side(low), far
	for _, s := range v.alive {
		portion := v.theta[s] / share
		mine[s] += portion
		least = min(least, portion)
	}
	e.minimum = least
	p.bound += least
}

// settle takes a variable's least label anew, and the bound with it.
func (p *proof) settle(v *variable) {
	p.bound -= v.minimum
	v.settle()
	p.bound += v.minimum
}

// ruleOut drops the labels that cannot beat the plan in hand.
func (p *proof) ruleOut(v *variable) {
	without := p.bound - v.minimum
	v.alive = slices.DeleteFunc(v.alive, func(s int16) bool {
		return without+v.theta[s] > p.best-unit
	})
	if len(v.alive) == 0 {
		p.bad = true
		return
	}
	p.settle(v)
}

// grow lists more sets of the variables whose unlisted ones are not ruled out, as many as
// there is room for, and tells whether there were any.
func (p *proof) grow(more int) bool {
	for ; p.held(more) > mostEntries; more /= 2 {
		if more == 0 {
			return false
		}
	}
	grown := make([]bool, len(p.vars))
	any := false
	for i, v := range p.vars {
		if v.open() {
			p.split(v, more)
			grown[i], any = true, true
		}
	}
	for _, e := range p.edges {
		if grown[e.lo] || grown[e.hi] {
			e.fill(p)
		}
	}
	p.refresh()
	return any
}

// held is what the proof would hold with so many more sets of each open variable.
func (p *proof) held(more int) int {
	size := func(v *variable) int {
		if v.open() {
			return len(v.sets) + more
		}
		return len(v.sets)
	}
	entries := 0
	for _, v := range p.vars {
		entries += listEntries * len(v.list.begun) * size(v) / max(1, len(v.sets))
	}
	for _, e := range p.edges {
		entries += size(p.vars[e.lo]) * size(p.vars[e.hi])
	}
	return entries
}

// split lists sets out of the label "any other set". They take over what that label
// has handed to the edges, so the bound does not fall.
func (p *proof) split(v *variable, more int) {
	o := int(v.others)
	handed := v.price[o] - v.theta[o]
	v.alive = v.alive[:len(v.alive)-1]
	v.sets, v.price, v.theta = v.sets[:o], v.price[:o], v.theta[:o]
	v.others = -1
	begun := len(v.list.begun)
	v.extend(p.md, more)
	p.spent += listSteps * int64(len(v.list.begun)-begun)
	for s := o; s < len(v.sets); s++ {
		v.theta = append(v.theta, v.price[s]-handed)
	}
	v.gather()
	if v.others >= 0 {
		v.theta[v.others] -= handed
	}
	v.settle()
	for _, k := range v.edges {
		mine := p.edges[k].side(p.vars[p.edges[k].lo] == v)
		given := (*mine)[o]
		*mine = (*mine)[:o]
		for len(*mine) < len(v.sets) {
			*mine = append(*mine, given)
		}
	}
}

// retire leaves out of the sweeps the variables that are settled together with all
// their neighbors: nothing can move between them any more.
func (p *proof) retire() {
	p.active = p.active[:0]
	for i, v := range p.vars {
		open := slices.ContainsFunc(v.edges, func(k int32) bool {
			return !p.vars[p.edges[k].lo].settled() || !p.vars[p.edges[k].hi].settled()
		})
		if open || !v.settled() {
			p.active = append(p.active, int32(i))
		}
	}
}
