package floats

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

// partCost is the cost in units of one part of an assignment.
func (r *rounding) partCost(part []int) int64 {
	total := int64(0)
	for _, i := range part {
		total += r.md.gapsOf(i, r.sets[i])
		node := r.md.choices[i].node
		for _, p := range r.sets[i] {
			cell := node + int(p) - 1
			total += r.md.own[cell]
			for _, e := range r.md.endsOf(cell) {
				if int(e.cell) > cell {
					total += r.taken(e)
				}
			}
		}
	}
	return total
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
