package floats

// ascent raises a lower bound on every plan and, with it, prices that tell each
// float where its neighbors will want to stand.
//
// A coupling costs w when both its cells a, b are caught. For any share s between 0 and w it
// costs at least s(a + b - 1), with a and b 1 when caught and 0 when not. So for any shares the
// couplings may be left out if each cell's cost is raised by the shares of its couplings and all
// shares are taken off the total: what is left falls apart into shortest paths, one a float,
// whose sum bounds every plan from below (a Lagrangian relaxation).
//
// The shares are raised float by float, up the piece and down again (package.go): each
// cell gives what it can spare to the couplings that lead onward. What it can spare is its
// exact min-marginal: the cheapest set with a catch there less the cheapest without. A
// sweep takes time linear in the stitches and never lowers the bound; the bound it tends
// to lies a little below the best plan in general, since a share sees only single cells.
type ascent struct {
	md    *model
	share []int64 // by coupling
	cost  []int64 // by cell: own cost and shares
	w     paths
}

func (a *ascent) sweep(upward bool) {
	for i := range a.md.choices {
		if !upward {
			i = len(a.md.choices) - 1 - i
		}
		a.visit(i, upward)
	}
}

func inTurn[T any](list []T, k int, upward bool) T {
	if upward {
		return list[k]
	}
	return list[len(list)-1-k]
}

// lower is the bound the shares give for a component, in units: each float's best path less all shares.
func (a *ascent) lower(component []int) int64 {
	total := int64(0)
	for _, i := range component {
		c := &a.md.choices[i]
		a.w.set(c, a.cost[c.node:c.node+c.Length])
		a.w.runBack()
		best, _ := a.w.best()
		total += best
		for cell := c.node; cell < c.node+c.Length; cell++ {
			for _, e := range a.md.endsIn(cell, 0, cell) {
				total -= a.share[e.coupling]
			}
		}
	}
	return total
}

// visit lets the cells of a choice, in knitting order, give what they can spare.
func (a *ascent) visit(i int, upward bool) {
	c := &a.md.choices[i]
	cost := a.cost[c.node : c.node+c.Length]
	a.w.set(c, cost)
	a.w.runBack()
	for _, s := range c.shape.starts {
		a.w.forward[c.shape.segments[s].base] = 0
	}
	for p := 1; p <= c.Length; p++ {
		held := c.shape.byPos[p-1]
		for _, s := range held {
			g := c.shape.segments[s]
			a.w.forward[g.state(p)] = a.w.enter(int(s), p)
		}
		if ends := a.onward(c, c.node+p-1, upward); len(held) > 0 && len(ends) > 0 {
			a.give(c.node+p-1, ends, a.spare(p))
		}
		for _, s := range held {
			g := c.shape.segments[s]
			a.w.forward[g.state(p)] += cost[p-1]
		}
	}
}

// spare is the cheapest set with a catch on p less the cheapest without one there, where
// some step passes p by; forward is known up to p, at p without the cell's own cost.
func (a *ascent) spare(p int) int64 {
	w, s := &a.w, a.w.shape
	with, without := far, far
	for _, i := range s.byPos[p-1] {
		st := s.segments[i].state(p)
		with = min(with, w.forward[st]+w.back[st])
	}
	for _, i := range s.before[p-1] {
		g := s.segments[i]
		for q := max(g.lo, p-s.stepMax); q <= min(g.hi, p-1); q++ {
			without = min(without, w.forward[g.state(q)]+w.leave(int(i), q, p))
		}
	}
	return with - without
}

// onward lists the couplings of a cell that lead to later choices (or to earlier ones).
func (a *ascent) onward(c *choice, cell int, upward bool) []end {
	if upward {
		return a.md.endsIn(cell, c.node+c.Length, len(a.cost))
	}
	return a.md.endsIn(cell, 0, c.node)
}

// give spreads a cell's spare over its onward couplings: a cell that is wanted
// (spare below 0) takes on shares, one that is not gives them back.
func (a *ascent) give(cell int, ends []end, spare int64) {
	for k, e := range ends {
		was := a.share[e.coupling]
		now := min(max(was-spare/int64(len(ends)-k), 0), a.md.couplings[e.coupling].weight)
		a.share[e.coupling] = now
		a.cost[cell] += now - was
		a.cost[e.cell] += now - was
		spare += now - was
	}
}
