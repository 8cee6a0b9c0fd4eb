package floats

import "slices"

// assignment is a set of catches for every choice: positions from 1, ascending.
type assignment [][]int32

// rounding turns prices into a plan and improves it: each float in turn takes its
// best set against its neighbors, first against the prices of those not yet
// settled, then against the sets they have, until nothing changes.
type rounding struct {
	md     *model
	sets   assignment
	caught []bool // by cell
	cost   []int64
	w      paths
	best   []int32
}

func newRounding(md *model) *rounding {
	return &rounding{md: md, sets: make(assignment, len(md.choices)), caught: make([]bool, len(md.own))}
}

// settle makes a plan from the shares of an ascent, upward or downward.
func (r *rounding) settle(a *ascent, upward bool) {
	clear(r.caught)
	clear(r.sets)
	for i := range r.md.choices {
		if !upward {
			i = len(r.md.choices) - 1 - i
		}
		r.priceAgainst(i, func(e end) int64 {
			if (int(e.cell) > r.md.choices[i].node) == upward {
				return a.share[e.coupling]
			}
			return r.taken(e)
		})
		r.take(i)
	}
}

// taken is the coupling's weight when its other cell is caught.
func (r *rounding) taken(e end) int64 {
	if r.caught[e.cell] {
		return r.md.couplings[e.coupling].weight
	}
	return 0
}

// priceAgainst sets the cell costs of a choice: its own and what each coupling to another adds.
func (r *rounding) priceAgainst(i int, add func(end) int64) {
	c := &r.md.choices[i]
	r.cost = r.cost[:0]
	for p := range c.Length {
		cost := r.md.own[c.node+p]
		for _, e := range r.md.ends[c.node+p] {
			if int(r.md.owner[e.cell]) != i {
				cost += add(e)
			}
		}
		r.cost = append(r.cost, cost)
	}
	r.w.set(c, r.cost)
}

// take gives choice i its best set at the costs set before, and tells whether that
// changed it. An allowed set it already has stays when none is cheaper.
func (r *rounding) take(i int) bool {
	set, cost := r.cheapest(i)
	if old := r.sets[i]; r.md.choices[i].shape.allows(old) && r.costOf(i, old) <= cost {
		return false
	}
	r.put(i, set)
	return true
}

func (r *rounding) cheapest(i int) (set []int32, cost int64) {
	if r.md.choices[i].self {
		return r.w.cheapest(func(set []int32) int64 { return r.md.meeting(i, set) })
	}
	r.best, cost = r.w.shortest(r.best[:0])
	return r.best, cost
}

func (r *rounding) costOf(i int, set []int32) int64 {
	total := r.md.choices[i].gaps(set)
	for _, p := range set {
		total += r.cost[p-1]
	}
	if r.md.choices[i].self {
		total += r.md.meeting(i, set)
	}
	return total
}

func (r *rounding) put(i int, set []int32) {
	node := r.md.choices[i].node
	for _, p := range r.sets[i] {
		r.caught[node+int(p)-1] = false
	}
	r.sets[i] = append(r.sets[i][:0], set...)
	for _, p := range set {
		r.caught[node+int(p)-1] = true
	}
}

func (r *rounding) improve(component []int, passes int) {
	for range passes {
		changed := false
		for _, i := range component {
			r.priceAgainst(i, r.taken)
			changed = r.take(i) || changed
		}
		if !changed {
			return
		}
	}
}

func (c *choice) gaps(set []int32) int64 {
	points, from := 0, c.shape.start
	for _, p := range set {
		points += gapWeight(c.shape.gap(from, int(p)), c.shape.limit)
		from = int(p)
	}
	points += gapWeight(c.shape.gap(from, c.Length+1), c.shape.limit)
	return int64(points*c.stand) * unit
}

// meeting is the cost of the couplings within one choice's own set, where a float lies above itself.
func (md *model) meeting(i int, set []int32) int64 {
	c, total := &md.choices[i], int64(0)
	for _, p := range set {
		cell := c.node + int(p) - 1
		for _, e := range md.endsIn(cell, cell+1, c.node+c.Length) {
			if slices.Contains(set, e.cell-int32(c.node)+1) {
				total += md.couplings[e.coupling].weight
			}
		}
	}
	return total
}
