package floats

import "slices"

// far is a cost that no path reaches; sums of a few stay far from overflow.
const far = int64(1) << 60

// paths finds shortest paths through a shape for given costs of its positions. One
// is used over and over, so that planning a large piece allocates little.
type paths struct {
	shape   *shape
	cost    []int64 // by position - 1
	gap     []int64 // by length of the gap, all copies
	forward []int64 // by state: cheapest way to it
	back    []int64 // by state: cheapest way from it to the end, its own cost included
}

func (w *paths) set(c *choice, cost []int64) {
	w.shape, w.cost = c.shape, cost
	w.gap = w.gap[:0]
	for g := range c.shape.limit + 1 {
		w.gap = append(w.gap, int64(gapWeight(g, c.shape.limit)*c.stand)*unit)
	}
	w.forward = slices.Grow(w.forward[:0], c.shape.states)[:c.shape.states]
	w.back = slices.Grow(w.back[:0], c.shape.states)[:c.shape.states]
}

// own is the cost of a state by itself; the ends of the float cost nothing.
func (w *paths) own(g segment, p int) int64 {
	if g.catch() {
		return w.cost[p-1]
	}
	return 0
}

func (w *paths) step(from, to int) int64 { return w.gap[w.shape.gap(from, to)] }

// enter is the cheapest way to position p of a segment, its own cost left out.
func (w *paths) enter(i, p int) int64 {
	prev, best := w.shape.segments[i-1], far
	lo, hi := w.shape.from(prev, p)
	for q := lo; q <= hi; q++ {
		best = min(best, w.forward[prev.state(q)]+w.step(q, p))
	}
	return best
}

// leave is the cheapest way on from position p of a segment, to one beyond a given position.
func (w *paths) leave(i, p, beyond int) int64 {
	next, best := w.shape.segments[i+1], far
	lo, hi := w.shape.to(next, p)
	for q := max(lo, beyond+1); q <= hi; q++ {
		best = min(best, w.step(p, q)+w.back[next.state(q)])
	}
	return best
}

func (w *paths) runBack() {
	for i := len(w.shape.segments) - 1; i >= 0; i-- {
		g := w.shape.segments[i]
		if g.end() {
			w.back[g.base] = 0
			continue
		}
		for p := g.hi; p >= g.lo; p-- {
			w.back[g.state(p)] = w.leave(i, p, p) + w.own(g, p)
		}
	}
}

// best returns the cost of the cheapest set and the segment it starts from. It needs runBack.
func (w *paths) best() (cost int64, start int) {
	cost = far
	for _, i := range w.shape.starts {
		if c := w.back[w.shape.segments[i].base]; c < cost {
			cost, start = c, int(i)
		}
	}
	return cost, start
}

// shortest returns the cheapest set of positions, appended to set, and its cost. Of
// equal sets it takes the one with fewer catches, then with the earlier catches.
func (w *paths) shortest(set []int32) ([]int32, int64) {
	w.runBack()
	best, i := w.best()
	for p, left := w.shape.start, best; ; {
		i++
		p, left = w.onward(i, p, left)
		if w.shape.segments[i].end() {
			return set, best
		}
		set = append(set, int32(p))
	}
}

// onward finds the position of a segment by which the way on costs what it costs at
// least, and what is left of that after it.
func (w *paths) onward(i, from int, want int64) (p int, left int64) {
	g := w.shape.segments[i]
	lo, hi := w.shape.to(g, from)
	for q := lo; q <= hi; q++ {
		if back := w.back[g.state(q)]; w.step(from, q)+back == want {
			return q, back - w.own(g, q)
		}
	}
	panic("floats: the cheapest path breaks off")
}

// mostMeetings is how many sets are tried of a float that lies above itself.
const mostMeetings = 1000

// cheapest is shortest for a float that lies above itself, where a set costs more for meeting
// itself: sets are listed from the cheapest on until no later one can make up for it, or there
// were so many that the best of them will do.
func (w *paths) cheapest(meeting func(set []int32) int64) (best []int32, cost int64) {
	cost = far
	list := rank(w)
	for n := 0; n < mostMeetings && list.bound() < cost; n++ {
		set, sum, _ := list.next()
		if sum += meeting(set); sum < cost {
			best, cost = set, sum
		}
	}
	return best, cost
}
