package floats

import "slices"

// What the messages leave undecided is solved exactly by eliminating one variable after another
// (nonserial dynamic programming: Bertele and Brioschi, 1972): all that is known of a variable is
// joined into one table over its neighbors that holds, for each of their labels, the least it
// can add. The variable with the smallest such table goes first. Tables and work are bounded in
// steps; past the bound nothing is claimed.

// factor is a table over the labels of some variables, the last varying fastest.
type factor struct {
	vars  []int32 // ascending
	sizes []int
	table []int64
}

// elimination is one group of variables with labels left to choose from. All
// around it have one label left.
type elimination struct {
	p       *proof
	factors map[int32][]*factor // by variable, those that hold it
	near    map[int32][]int32   // by variable, those it shares a factor with
	order   []eliminated
	chosen  []int // by variable: a label, as index into alive; 0 between uses
	steps   int64 // left to spend
}

// eliminated remembers the best label of a variable for each choice of labels of its neighbors.
type eliminated struct {
	variable int32
	*factor
	choice []int16 // index into alive
}

// eliminate settles a group of variables on its best labels, unless that would take
// more steps than given. Every label "any other set" in it must be ruled out.
func (p *proof) eliminate(group []int32, steps int64) bool {
	el := &elimination{p: p, steps: max(0, steps), factors: map[int32][]*factor{}, near: map[int32][]int32{}, chosen: p.chosen}
	for _, i := range group {
		v := p.vars[i]
		own := &factor{[]int32{i}, []int{len(v.alive)}, nil}
		for _, s := range v.alive {
			own.table = append(own.table, v.theta[s])
		}
		el.add(own)
		for _, k := range v.edges {
			if e := p.edges[k]; e.lo == i || len(p.vars[e.lo].alive) == 1 {
				el.add(el.pairwise(e))
			}
		}
	}
	defer func() { p.spent += max(0, steps) - el.steps }()
	open := slices.Clone(group)
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
	for _, i := range f.vars {
		el.factors[i] = append(el.factors[i], f)
		for _, n := range f.vars {
			if n != i && !slices.Contains(el.near[i], n) {
				el.near[i] = append(el.near[i], n)
			}
		}
	}
}

// pairwise is an edge as a factor over those of its sides that are not settled.
func (el *elimination) pairwise(e *edge) *factor {
	f := &factor{}
	for _, i := range []int32{e.lo, e.hi} {
		if n := el.labels(i); n > 1 {
			f.vars, f.sizes = append(f.vars, i), append(f.sizes, n)
		}
	}
	for _, s := range el.p.vars[e.lo].alive {
		for _, t := range el.p.vars[e.hi].alive {
			f.table = append(f.table, e.cost(s, t))
		}
	}
	return f
}

// smallest finds the variable whose elimination makes the smallest table.
func (el *elimination) smallest(open []int32) (at int, entries int64) {
	entries = int64(1) << 62
	for j, i := range open {
		size := int64(el.labels(i))
		for _, n := range el.near[i] {
			size = min(size*int64(el.labels(n)), maxTable*64)
		}
		if size < entries {
			at, entries = j, size
		}
	}
	return at, entries
}

// remove joins the factors of a variable and minimizes it out.
func (el *elimination) remove(i int32) bool {
	vars := slices.Sorted(slices.Values(el.near[i]))
	joined, choice := el.join(i, vars, el.factors[i])
	if joined == nil {
		return false
	}
	el.order = append(el.order, eliminated{i, joined, choice})
	for _, f := range el.factors[i] {
		f.table = nil
	}
	for _, n := range vars {
		el.factors[n] = slices.DeleteFunc(el.factors[n], func(f *factor) bool { return slices.Contains(f.vars, i) })
		el.near[n] = slices.DeleteFunc(el.near[n], func(m int32) bool { return m == i })
	}
	delete(el.factors, i)
	el.add(joined)
	return true
}

func (el *elimination) join(i int32, vars []int32, mine []*factor) (*factor, []int16) {
	out, entries := &factor{vars: vars}, 1
	for _, v := range vars {
		out.sizes = append(out.sizes, el.labels(v))
		entries *= el.labels(v)
	}
	labels := el.labels(i)
	work := int64(entries * labels * len(mine))
	if work > el.steps {
		return nil, nil
	}
	el.steps -= work
	out.table = make([]int64, entries)
	choice := make([]int16, entries)
	bases, own := make([]int, len(mine)), make([]int, len(mine))
	for k, f := range mine {
		el.chosen[i] = 1
		own[k] = f.entry(el.chosen)
		el.chosen[i] = 0
	}
	for e := range entries {
		for k, f := range mine {
			bases[k] = f.entry(el.chosen)
		}
		least, which := far, 0
		for s := range labels {
			sum := int64(0)
			for k, f := range mine {
				sum += f.table[bases[k]+s*own[k]]
			}
			if sum < least {
				least, which = sum, s
			}
		}
		out.table[e], choice[e] = least, int16(which)
		out.next(el.chosen)
	}
	return out, choice
}

func (el *elimination) labels(i int32) int { return len(el.p.vars[i].alive) }

// entry is where the table of a factor holds the picked labels.
func (f *factor) entry(pick []int) int {
	at := 0
	for k, v := range f.vars {
		at = at*f.sizes[k] + pick[v]
	}
	return at
}

// next counts the picked labels one on, the last place fastest, and at the end back to none.
func (f *factor) next(pick []int) {
	for k := len(f.vars) - 1; k >= 0; k-- {
		v := f.vars[k]
		if pick[v]++; pick[v] < f.sizes[k] {
			return
		}
		pick[v] = 0
	}
}

// trace reads the labels back, last eliminated first, and settles on them.
func (el *elimination) trace() {
	for k := len(el.order) - 1; k >= 0; k-- {
		o := el.order[k]
		el.chosen[o.variable] = int(o.choice[o.entry(el.chosen)])
	}
	for _, o := range el.order {
		v := el.p.vars[o.variable]
		v.alive = []int16{v.alive[el.chosen[o.variable]]}
		el.chosen[o.variable] = 0
	}
}
