package floats

import "slices"

// parts splits the choices into those joined by couplings, directly or through
// others; choices of different parts have nothing to do with each other. The parts
// stand in the order of their first choice, choices ascending in each.
func (md *model) parts() [][]int {
	return components(make([]bool, len(md.choices)), func(i int, also func(int)) {
		c := &md.choices[i]
		for _, e := range md.ends[md.endStart[c.node]:md.endStart[c.node+c.Length]] {
			also(int(md.owner[e.cell]))
		}
	})
}

// components groups what is joined, apart from what is seen already.
func components[T int | int32](seen []bool, near func(of T, also func(T))) [][]T {
	var groups [][]T
	for i := range seen {
		if seen[i] {
			continue
		}
		seen[i] = true
		group := []T{T(i)}
		for at := 0; at < len(group); at++ {
			near(group[at], func(other T) {
				if !seen[other] {
					seen[other] = true
					group = append(group, other)
				}
			})
		}
		slices.Sort(group)
		groups = append(groups, group)
	}
	return groups
}

func (md *model) cellsOf(part []int) int {
	return sumOver(part, func(i int) int { return md.choices[i].Length })
}

// entriesOf is the entries of a part's tables at first.
func (md *model) entriesOf(part []int) int { return sumOver(part, md.tablesOf) }

func sumOver(part []int, of func(int) int) int {
	sum := 0
	for _, i := range part {
		sum += of(i)
	}
	return sum
}

// blockEntries bounds the tables of a block as they are at first, in entries.
const blockEntries = 3 << 20

// blocks cuts a part into runs of choices whose tables are bounded. Couplings between two
// blocks stay shared out as the ascent left them.
func (md *model) blocks(part []int) [][]int {
	var blocks [][]int
	from, entries := 0, 0
	for k, i := range part {
		more := md.tablesOf(i)
		if entries += more; entries > blockEntries && k > from {
			blocks, from, entries = append(blocks, part[from:k]), k, more
		}
		md.block[i] = int32(len(blocks))
	}
	return append(blocks, part[from:])
}

// tablesOf is the entries, at first, of the tables of a choice with those before it that
// it is coupled with; some may count twice.
func (md *model) tablesOf(i int) int {
	c, entries, last := &md.choices[i], 0, int32(-1)
	for cell := c.node; cell < c.node+c.Length; cell++ {
		for _, e := range md.endsOf(cell) {
			if o := md.owner[e.cell]; int(o) < i && o != last {
				entries, last = entries+c.shape.sets*md.choices[o].shape.sets, o
			}
		}
	}
	return entries
}

// partCost is the cost in units of a part or block of an assignment, with all its
// choices are coupled with.
func (r *rounding) partCost(part []int) int64 {
	return r.costOfPart(part, r.taken)
}

// blockCost is the cost of a block by itself: couplings to other blocks cost each of their
// cells its share when caught.
func (r *rounding) blockCost(a *ascent, part []int) int64 {
	return r.costOfPart(part, func(e end) int64 { return a.share[e.coupling] })
}

func (r *rounding) costOfPart(part []int, outside func(end) int64) int64 {
	total := int64(0)
	for _, i := range part {
		total += r.md.choices[i].gaps(r.sets[i])
		node := r.md.choices[i].node
		for _, p := range r.sets[i] {
			cell := node + int(p) - 1
			total += r.md.own[cell]
			for _, e := range r.md.endsOf(cell) {
				switch {
				case !r.md.together(i, e):
					total += outside(e)
				case int(e.cell) > cell:
					total += r.taken(e)
				}
			}
		}
	}
	return total
}

// together reports whether the other cell of a coupling of choice i is in its block.
func (md *model) together(i int, e end) bool {
	return md.block[md.owner[e.cell]] == md.block[i]
}

func (r *rounding) copyPart(part []int, to assignment) {
	for _, i := range part {
		to[i] = append(to[i][:0], r.sets[i]...)
	}
}

func (r *rounding) loadPart(part []int, from assignment) {
	for _, i := range part {
		r.put(i, from[i])
	}
}
