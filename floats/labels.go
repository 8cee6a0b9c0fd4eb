package floats

import "slices"

// The proof works on a shorter list of decisions. Of each choice it keeps the few
// cheapest sets, ranked at the prices of the ascent, as labels, and one more label,
// "any other set", that costs as much as the cheapest set not listed and meets no
// other catch. The problem on labels bounds the plan from below whatever is left
// out, and once every such last label is ruled out it is the whole problem.

// variable is a choice as a list of labels.
type variable struct {
	choice  int // index into model.choices
	sets    [][]int32
	price   []int64 // by label: what its set costs at the ascent's prices
	theta   []int64 // by label: what of that has not been handed to the edges
	alive   []int16 // labels not ruled out, ascending
	others  int16   // the label "any other set", -1 when every set is listed
	edges   []int32 // all edges of the variable, by other variable
	list    *ranked
	minimum int64 // least theta of the labels alive
}

// edge is the couplings between two variables as a table over their labels, and
// what each side has handed to it.
type edge struct {
	lo, hi     int32   // variables, lo < hi
	base       []int64 // by label of lo, then of hi
	fromLo     []int64 // by label of lo
	fromHi     []int64 // by label of hi
	minimum    int64   // least cost over the labels alive
	loAt, hiAt int     // number of labels on each side: the table's sides
}

// cost is what the edge costs with a label of each side.
func (e *edge) cost(s, t int16) int64 {
	return e.base[int(s)*e.hiAt+int(t)] + e.fromLo[s] + e.fromHi[t]
}

// newVariable ranks the sets of a choice and lists the first ones.
func (p *proof) newVariable(choice, labels int) *variable {
	c := &p.md.choices[choice]
	w := &paths{}
	w.set(c, p.ascent.cost[c.node:c.node+c.Length])
	v := &variable{choice: choice, others: -1, list: rank(w)}
	v.extend(p.md, labels)
	p.spent += listSteps * int64(len(v.list.begun))
	v.theta = append(v.theta, v.price...)
	v.gather()
	v.settle()
	return v
}

// extend lists up to so many more sets.
func (v *variable) extend(md *model, more int) {
	for range more {
		set, cost, ok := v.list.next()
		if !ok {
			return
		}
		if md.choices[v.choice].self {
			cost += md.meeting(v.choice, set)
		}
		v.alive = append(v.alive, int16(len(v.sets)))
		v.sets = append(v.sets, set)
		v.price = append(v.price, cost)
	}
}

// open reports whether sets that are not listed may still be best.
func (v *variable) open() bool {
	return v.others >= 0 && slices.Contains(v.alive, v.others)
}

func (v *variable) settled() bool { return len(v.alive) == 1 && !v.open() }

// gather adds the label for the sets not listed, if there are any.
func (v *variable) gather() {
	if v.list.bound() == far {
		return
	}
	v.others = int16(len(v.sets))
	v.alive = append(v.alive, v.others)
	v.sets = append(v.sets, nil)
	v.price = append(v.price, v.list.bound())
	v.theta = append(v.theta, v.list.bound())
}

func (v *variable) settle() {
	v.minimum = far
	for _, s := range v.alive {
		v.minimum = min(v.minimum, v.theta[s])
	}
}

// fill works out the edge's table. Beside the weights it holds the shares of the
// ascent, which the prices of the labels have been raised by: each coupling costs
// its weight less its share when both cells are caught, its share when neither is and
// nothing when one is. None is below 0, so "any other set" may count 0.
func (e *edge) fill(p *proof) {
	lo, hi := p.vars[e.lo], p.vars[e.hi]
	from, to := &p.md.choices[lo.choice], &p.md.choices[hi.choice]
	e.loAt, e.hiAt = len(lo.sets), len(hi.sets)
	e.base = make([]int64, e.loAt*e.hiAt)
	p.spent += fillSteps * int64(len(e.base))
	cells := p.scratch[to.node : to.node+to.Length] // what each cell of hi adds
	whole := int64(0)
	for q := range from.Length {
		for _, x := range p.md.endsBetween(from.node+q, to) {
			share := p.ascent.share[x.coupling]
			whole += share
			cells[int(x.cell)-to.node] -= share
		}
	}
	for s, set := range lo.sets {
		if set == nil {
			continue
		}
		left := whole + p.mark(from, to, set, 1)
		for t, other := range hi.sets {
			if other == nil {
				continue
			}
			cost := left
			for _, q := range other {
				cost += cells[q-1]
			}
			e.base[s*e.hiAt+t] = cost
		}
		p.mark(from, to, set, -1)
	}
	clear(cells)
}

// mark lays on the cells of choice to what a set of from makes them cost more (times is
// 1), or takes it off again (-1). It returns the shares on the set's cells, less than 0.
func (p *proof) mark(from, to *choice, set []int32, times int64) (shares int64) {
	for _, q := range set {
		for _, x := range p.md.endsBetween(from.node+int(q)-1, to) {
			p.scratch[x.cell] += times * p.md.couplings[x.coupling].weight
			shares -= p.ascent.share[x.coupling]
		}
	}
	return shares
}
