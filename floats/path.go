package floats

// far is a cost that no path reaches; sums of a few stay far from overflow.
const far = int64(1) << 60

// paths finds shortest paths through a shape for given costs of its positions. One
// is used over and over, so that planning a large piece allocates little.
type paths struct {
	shape   *shape
	cost    []int64 // by position - 1
	gap     []int64 // by length of the gap, all copies
	limit   int
	forward []int64 // by state: cheapest way to it, its own cost included
	back    []int64 // by state: cheapest way from it to the end, its own cost left out
}

// set makes the paths ready for a choice whose cells have the given costs.
func (w *paths) set(c *choice, limit int, cost []int64) {
	w.shape, w.cost, w.limit = c.shape, cost, limit
	w.gap = w.gap[:0]
	for g := 0; g <= limit; g++ {
		w.gap = append(w.gap, int64(gapWeight(g, limit)*c.stand)*unit)
	}
	w.forward = grow(w.forward, c.shape.states)
	w.back = grow(w.back, c.shape.states)
}

func grow(s []int64, n int) []int64 {
	if cap(s) < n {
		return make([]int64, n, 2*n)
	}
	return s[:n]
}

// enter is the cheapest way to catch g.j on p, its own cost left out.
func (w *paths) enter(i int, p int) int64 {
	g := w.shape.segments[i]
	if g.first() {
		return w.gap[w.shape.firstGap(p)]
	}
	prev := w.shape.segments[i-1]
	best := far
	lo, hi := w.shape.from(prev, p)
	for q := lo; q <= hi; q++ {
		best = min(best, w.forward[prev.state(q)]+w.gap[w.shape.stepGap(p-q)])
	}
	return best
}

// leave is the cheapest way on from catch g.j on p to the end.
func (w *paths) leave(i int, p int) int64 {
	g := w.shape.segments[i]
	if g.last() {
		return w.gap[w.shape.lastGap(p)]
	}
	next := w.shape.segments[i+1]
	best := far
	lo, hi := w.shape.to(next, p)
	for q := lo; q <= hi; q++ {
		best = min(best, w.gap[w.shape.stepGap(q-p)]+w.cost[q-1]+w.back[next.state(q)])
	}
	return best
}

func (w *paths) runBack() {
	for i := len(w.shape.segments) - 1; i >= 0; i-- {
		g := w.shape.segments[i]
		for p := g.hi; p >= g.lo; p-- {
			w.back[g.state(p)] = w.leave(i, p)
		}
	}
}

// best returns the cost of the cheapest set. It needs runBack.
func (w *paths) best() int64 {
	best := far
	for i, g := range w.shape.segments {
		if !g.first() {
			continue
		}
		for p := g.lo; p <= g.hi; p++ {
			best = min(best, w.enter(i, p)+w.cost[p-1]+w.back[g.state(p)])
		}
	}
	return best
}

// shortest returns the cheapest set of positions, appended to set, and its cost. Of
// equal sets it takes the one with fewer catches, then with the earlier catches.
func (w *paths) shortest(set []int32) ([]int32, int64) {
	w.runBack()
	best := w.best()
	left := best
	i, p := w.start(left)
	for {
		set = append(set, int32(p))
		g := w.shape.segments[i]
		left = w.back[g.state(p)]
		if g.last() {
			return set, best
		}
		i, p = i+1, w.onward(i+1, p, left)
	}
}

func (w *paths) start(want int64) (i, p int) {
	for i, g := range w.shape.segments {
		for p := g.lo; g.first() && p <= g.hi; p++ {
			if w.enter(i, p)+w.cost[p-1]+w.back[g.state(p)] == want {
				return i, p
			}
		}
	}
	panic("floats: the cheapest path has no start")
}

func (w *paths) onward(i, from int, want int64) int {
	g := w.shape.segments[i]
	lo, hi := w.shape.to(g, from)
	for q := lo; q <= hi; q++ {
		if w.gap[w.shape.stepGap(q-from)]+w.cost[q-1]+w.back[g.state(q)] == want {
			return q
		}
	}
	panic("floats: the cheapest path breaks off")
}

// sum is the cost of a given set at the costs set before.
func (w *paths) sum(set []int) int64 {
	total := w.gap[w.shape.firstGap(set[0])] + w.gap[w.shape.lastGap(set[len(set)-1])]
	for i, p := range set {
		total += w.cost[p-1]
		if i > 0 {
			total += w.gap[w.shape.stepGap(p-set[i-1])]
		}
	}
	return total
}
