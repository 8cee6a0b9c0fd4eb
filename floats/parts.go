package floats

import "slices"

// parts splits the choices into those joined by couplings, directly or through
// others; choices of different parts have nothing to do with each other. The parts
// stand in the order of their first choice, choices ascending in each.
func (md *model) parts() [][]int {
	root := make([]int32, len(md.choices))
	for i := range root {
		root[i] = int32(i)
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for _, c := range md.couplings {
		a, b := find(md.owner[c.a]), find(md.owner[c.b])
		root[max(a, b)] = min(a, b)
	}
	number := make(map[int32]int)
	var parts [][]int
	for i := range md.choices {
		r := find(int32(i))
		if _, ok := number[r]; !ok {
			number[r] = len(parts)
			parts = append(parts, nil)
		}
		parts[number[r]] = append(parts[number[r]], i)
	}
	return parts
}

// bySize orders parts by their cells, the smallest first: what is proven with few steps
// leaves them to what needs many.
func (md *model) bySize(parts [][]int) [][]int {
	slices.SortStableFunc(parts, func(a, b []int) int { return md.cellsOf(a) - md.cellsOf(b) })
	return parts
}

func (md *model) cellsOf(part []int) int {
	cells := 0
	for _, i := range part {
		cells += md.choices[i].Length
	}
	return cells
}

// entriesOf is the entries of a part's tables at first.
func (md *model) entriesOf(part []int) int {
	entries := 0
	for _, i := range part {
		entries += md.tablesOf(i)
	}
	return entries
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
		total += r.md.gapsOf(i, r.sets[i])
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
