package floats

import "slices"

// What the messages leave undecided is solved exactly by eliminating one variable
// after another (nonserial dynamic programming: Bertele and Brioschi, 1972): all
// that is known of a variable is joined into one table over its neighbours that
// holds, for each of their labels, the least it can add. The variable with the
// smallest such table goes first. Tables and work are bounded in steps; past the
// bound nothing is claimed.

// maxTable bounds one table, in entries.
const maxTable = 1 << 20

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
	steps   int64 // left to spend
}

// eliminated remembers the best label of a variable for each choice of labels of
// its neighbours.
type eliminated struct {
	variable int32
	vars     []int32
	sizes    []int
	choice   []int16 // index into alive
}

// eliminate settles a group of variables on its best labels, unless that would take
// more steps than given. Every label "any other set" in it must be ruled out.
func (p *proof) eliminate(group []int32, steps int64) bool {
	el := &elimination{p: p, steps: max(0, steps), factors: map[int32][]*factor{}, near: map[int32][]int32{}}
	for _, i := range group {
		v := p.vars[i]
		el.add(&factor{[]int32{i}, []int{len(v.alive)}, el.unary(v)})
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

func (el *elimination) unary(v *variable) []int64 {
	table := make([]int64, 0, len(v.alive))
	for _, s := range v.alive {
		table = append(table, v.theta[s])
	}
	return table
}

// pairwise is an edge as a factor over those of its sides that are not settled.
func (el *elimination) pairwise(e *edge) *factor {
	f := &factor{}
	for _, i := range []int32{e.lo, e.hi} {
		if n := len(el.p.vars[i].alive); n > 1 {
			f.vars, f.sizes = append(f.vars, i), append(f.sizes, n)
		}
	}
	for _, s := range el.p.vars[e.lo].alive {
		for _, t := range el.p.vars[e.hi].alive {
			f.table = append(f.table, e.base[int(s)*e.hiAt+int(t)]+e.fromLo[s]+e.fromHi[t])
		}
	}
	return f
}

// smallest finds the variable whose elimination makes the smallest table.
func (el *elimination) smallest(open []int32) (at int, entries int64) {
	entries = int64(1) << 62
	for j, i := range open {
		size := int64(len(el.p.vars[i].alive))
		for _, n := range el.near[i] {
			size = min(size*int64(len(el.p.vars[n].alive)), maxTable*64)
		}
		if size < entries {
			at, entries = j, size
		}
	}
	return at, entries
}

// remove joins the factors of a variable and minimises it out.
func (el *elimination) remove(i int32) bool {
	vars := slices.Sorted(slices.Values(el.near[i]))
	joined, choice := el.join(i, vars, el.factors[i])
	if joined == nil {
		return false
	}
	el.order = append(el.order, eliminated{i, vars, joined.sizes, choice})
	for _, n := range vars {
		el.factors[n] = slices.DeleteFunc(el.factors[n], func(f *factor) bool { return slices.Contains(f.vars, i) })
		el.near[n] = slices.DeleteFunc(el.near[n], func(m int32) bool { return m == i })
	}
	delete(el.factors, i)
	el.add(joined)
	return true
}

func (el *elimination) join(i int32, vars []int32, mine []*factor) (*factor, []int16) {
	out := &factor{vars: vars}
	entries := 1
	for _, v := range vars {
		out.sizes = append(out.sizes, len(el.p.vars[v].alive))
		entries *= len(el.p.vars[v].alive)
	}
	labels := len(el.p.vars[i].alive)
	work := int64(entries * labels * len(mine))
	if work > el.steps {
		return nil, nil
	}
	el.steps -= work
	out.table = make([]int64, entries)
	choice := make([]int16, entries)
	at := make([]int, len(vars))
	strides := make([][]int, len(mine))
	own := make([]int, len(mine))
	for k, f := range mine {
		strides[k], own[k] = f.strides(vars, i)
	}
	bases := make([]int, len(mine))
	for e := range entries {
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
		advance(at, out.sizes, bases, strides)
	}
	return out, choice
}

// strides tells how far a step of each of vars, and of variable i, moves in the
// factor's table.
func (f *factor) strides(vars []int32, i int32) (steps []int, own int) {
	steps = make([]int, len(vars))
	step := 1
	for k := len(f.vars) - 1; k >= 0; k-- {
		if f.vars[k] == i {
			own = step
		} else {
			steps[slices.Index(vars, f.vars[k])] = step
		}
		step *= f.sizes[k]
	}
	return steps, own
}

// advance counts at one on, the last place fastest, and moves the bases along.
func advance(at, sizes, bases []int, strides [][]int) {
	for k := len(at) - 1; k >= 0; k-- {
		at[k]++
		for f := range bases {
			bases[f] += strides[f][k]
		}
		if at[k] < sizes[k] {
			return
		}
		for f := range bases {
			bases[f] -= strides[f][k] * sizes[k]
		}
		at[k] = 0
	}
}

// trace reads the labels back, last eliminated first, and settles on them.
func (el *elimination) trace() {
	picked := make(map[int32]int, len(el.order))
	for k := len(el.order) - 1; k >= 0; k-- {
		o := el.order[k]
		entry := 0
		for j, v := range o.vars {
			entry = entry*o.sizes[j] + picked[v]
		}
		picked[o.variable] = int(o.choice[entry])
	}
	for i, at := range picked {
		v := el.p.vars[i]
		v.alive = []int16{v.alive[at]}
	}
}
