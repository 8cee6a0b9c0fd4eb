package floats

import "slices"

// The proof works on a shorter list of decisions. Of each choice it keeps the few
// cheapest sets, ranked at the prices of the ascent, as labels, and one more label,
// "any other set", that costs as much as the cheapest set not listed and meets no
// other catch. The problem on labels bounds the plan from below whatever is left
// out, and once every such last label is ruled out it is the whole problem.

type variable struct {
	choice  int // index into model.choices
	at      int // index into the proof's variables
	sets    [][]int32
	holding [][]int16 // by position - 1: the labels whose set has a catch there
	theta   []int64   // by label: what its set costs at the ascent's prices, less what the edges were handed of it
	alive   []int16   // labels not ruled out, ascending
	others  int16     // the label "any other set", -1 when every set is listed
	edges   []link    // by other variable
	list    *ranked
	minimum int64 // least theta of the labels alive
	picked  int   // of elimination: a label, as index into alive; 0 between uses
}

// edge is the couplings between two variables, and what each side has handed to it.
type edge struct {
	vars    [2]*variable // in order of their choices
	base    []int64      // by label of the first, then of the second
	from    [2][]int64   // by label of each
	minimum int64        // least cost over the labels alive
}

type link struct {
	*edge
	side int
}

func (l link) other() *variable { return l.vars[1-l.side] }

func (l link) ahead(upward bool) bool { return (l.side == 0) == upward }

// leastWith is the least that the edge costs with a label of this side, over some of the other's.
func (l link) leastWith(s int16, others []int16) int64 {
	at, step := int(s)*len(l.from[1]), 1
	if l.side == 1 {
		at, step = int(s), len(l.from[1])
	}
	least, given := far, l.from[1-l.side]
	for _, t := range others {
		least = min(least, l.base[at+int(t)*step]+given[t])
	}
	return least + l.from[l.side][s]
}

func (p *proof) newVariable(choice int) *variable {
	c, w := &p.md.choices[choice], &paths{}
	w.set(c, p.ascent.cost[c.node:c.node+c.Length])
	v := &variable{choice: choice, at: len(p.vars), list: rank(w), holding: make([][]int16, c.Length)}
	p.extend(v, firstLabels, 0)
	return v
}

// extend lists up to so many more sets, and adds the label for those that are still not listed,
// if there are any. Of what each new label costs so much was handed to the edges already.
func (p *proof) extend(v *variable, more int, handed int64) {
	add := func(set []int32, price int64) {
		v.alive = append(v.alive, int16(len(v.sets)))
		v.sets, v.theta = append(v.sets, set), append(v.theta, price-handed)
	}
	begun := v.list.begun
	for range more {
		set, cost, ok := v.list.next()
		if !ok {
			break
		}
		for _, at := range set {
			v.holding[at-1] = append(v.holding[at-1], int16(len(v.sets)))
		}
		add(set, cost+p.md.meeting(v.choice, set))
	}
	p.spent += int64(v.list.begun - begun)
	v.others = -1
	if bound := v.list.bound(); bound < far {
		v.others = int16(len(v.sets))
		add(nil, bound)
	}
	v.settle()
}

// split lists sets out of the label "any other set". They take over what that label
// has handed to the edges, so the bound does not fall.
func (p *proof) split(v *variable, more int) {
	o, handed := int(v.others), int64(0)
	for _, l := range v.edges {
		handed += l.from[l.side][o]
	}
	v.alive, v.sets, v.theta = v.alive[:len(v.alive)-1], v.sets[:o], v.theta[:o]
	p.extend(v, more, handed)
	for _, l := range v.edges {
		mine := &l.from[l.side]
		*mine = append((*mine)[:o], slices.Repeat((*mine)[o:], len(v.sets)-o)...)
	}
}

// open reports whether sets that are not listed may still be best.
func (v *variable) open() bool { return v.others >= 0 && slices.Contains(v.alive, v.others) }

func (v *variable) settled() bool { return len(v.alive) == 1 && !v.open() }

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
func (p *proof) fill(e *edge) {
	lo, hi := e.vars[0], e.vars[1]
	from, to := &p.md.choices[lo.choice], &p.md.choices[hi.choice]
	e.base = make([]int64, len(lo.sets)*len(hi.sets))
	p.spent += int64(len(e.base))
	whole, low, high := int64(0), make([]int64, len(lo.sets)), make([]int64, len(hi.sets))
	for q, here := range lo.holding {
		for _, x := range p.md.endsIn(from.node+q, to.node, to.node+to.Length) {
			share, there := p.ascent.share[x.coupling], hi.holding[int(x.cell)-to.node]
			whole += share
			for _, t := range there {
				high[t] -= share
			}
			p.spent += int64(len(here) * len(there))
			for _, s := range here {
				low[s] -= share
				for _, t := range there {
					e.base[int(s)*len(hi.sets)+int(t)] += p.md.couplings[x.coupling].weight
				}
			}
		}
	}
	for s, set := range lo.sets {
		for t, other := range hi.sets {
			if set != nil && other != nil {
				e.base[s*len(hi.sets)+t] += whole + low[s] + high[t]
			}
		}
	}
}
