package floats

import "slices"

// What the messages leave undecided is solved exactly by eliminating one variable after another
// (nonserial dynamic programming: Bertele and Brioschi, 1972): all that is known of a variable is
// joined into one table over its neighbors that holds, for each of their labels, the least it
// can add. The variable with the smallest such table goes first. Tables and work are bounded in
// steps; past the bound nothing is claimed.

// factor is a table over the labels alive of some variables, the last varying fastest.
type factor struct {
	vars  []*variable
	table []int64
}

// elimination is one group of variables to choose for; all around it have one label left.
type elimination struct {
	factors map[*variable][]*factor // those that hold it
	order   []eliminated
	steps   int64 // left to spend
}

// eliminated remembers the best label of a variable for each choice of labels of its neighbors.
type eliminated struct {
	*variable
	near *factor
	best []int16 // index into alive, as near has its entries
}

// eliminate settles a group of variables on its best labels, unless that would take
// more steps than given. Every label "any other set" in it must be ruled out.
func (p *proof) eliminate(group []int, steps int64) bool {
	el := &elimination{steps: max(0, steps), factors: map[*variable][]*factor{}}
	var open []*variable
	for _, i := range group {
		v := p.vars[i]
		open = append(open, v)
		own := &factor{vars: []*variable{v}}
		for _, s := range v.alive {
			own.table = append(own.table, v.theta[s])
		}
		el.add(own)
		for _, l := range v.edges {
			if l.side == 0 || l.other().settled() {
				el.add(pairwise(l.edge))
			}
		}
	}
	defer func() { p.spent += max(0, steps) - el.steps }()
	for len(open) > 0 {
		at, entries := el.smallest(open)
		if entries > maxTable || !el.remove(open[at]) {
			return false
		}
		open = slices.Delete(open, at, at+1)
	}
	el.trace()
	return true
}

func (el *elimination) add(f *factor) {
	for _, v := range f.vars {
		el.factors[v] = append(el.factors[v], f)
	}
}

func (el *elimination) near(v *variable) (near []*variable) {
	for _, f := range el.factors[v] {
		for _, n := range f.vars {
			if n != v && !slices.Contains(near, n) {
				near = append(near, n)
			}
		}
	}
	return near
}

// pairwise is an edge as a factor over those of its sides that are not settled.
func pairwise(e *edge) *factor {
	f := &factor{}
	for _, v := range e.vars {
		if len(v.alive) > 1 {
			f.vars = append(f.vars, v)
		}
	}
	for _, s := range e.vars[0].alive {
		for k := range e.vars[1].alive {
			f.table = append(f.table, link{e, 0}.leastWith(s, e.vars[1].alive[k:][:1]))
		}
	}
	return f
}

func (el *elimination) smallest(open []*variable) (at int, entries int) {
	entries = maxTable * 64
	for j, v := range open {
		size := len(v.alive)
		for _, n := range el.near(v) {
			size = min(size*len(n.alive), maxTable*64)
		}
		if size < entries {
			at, entries = j, size
		}
	}
	return at, entries
}

func (el *elimination) remove(v *variable) bool {
	out, mine := &factor{vars: el.near(v)}, el.factors[v]
	entries := 1
	for _, n := range out.vars {
		entries *= len(n.alive)
	}
	if el.steps -= int64(entries * len(v.alive) * len(mine)); el.steps < 0 {
		el.steps = 0
		return false
	}
	el.order = append(el.order, eliminated{v, out, el.join(v, mine, out, entries)})
	for _, n := range out.vars {
		el.factors[n] = slices.DeleteFunc(el.factors[n], func(f *factor) bool { return slices.Contains(f.vars, v) })
	}
	delete(el.factors, v)
	el.add(out)
	return true
}

// join fills a table with the least sum of factors over the labels of a variable, and returns those.
func (el *elimination) join(v *variable, mine []*factor, out *factor, entries int) []int16 {
	best, steps := make([]int16, entries), make([]int, len(mine))
	out.table = slices.Repeat([]int64{far}, entries)
	for k, f := range mine { // from one label of the variable to the next
		v.picked = 1
		steps[k] = f.entry()
		v.picked = 0
	}
	sums := make([]int64, len(v.alive))
	for e := range entries {
		clear(sums)
		for k, f := range mine {
			from := f.entry()
			for s := range sums {
				sums[s] += f.table[from+s*steps[k]]
			}
		}
		for s, sum := range sums {
			if sum < out.table[e] {
				out.table[e], best[e] = sum, int16(s)
			}
		}
		out.next()
	}
	return best
}

func (f *factor) entry() int {
	at := 0
	for _, v := range f.vars {
		at = at*len(v.alive) + v.picked
	}
	return at
}

// next counts the picked labels one on, the last place fastest, and at the end back to none.
func (f *factor) next() {
	for _, v := range slices.Backward(f.vars) {
		if v.picked++; v.picked < len(v.alive) {
			return
		}
		v.picked = 0
	}
}

func (el *elimination) trace() {
	for _, o := range slices.Backward(el.order) {
		o.picked = int(o.best[o.near.entry()])
	}
	for _, o := range el.order {
		o.alive, o.picked = []int16{o.alive[o.picked]}, 0
	}
}
