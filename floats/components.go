package floats

import "slices"

// components splits the choices into those joined by couplings, directly or through others, in the
// order of their first choice, choices ascending in each.
func (md *model) components() [][]int {
	return joined(make([]bool, len(md.choices)), func(i int, also func(int)) {
		c := &md.choices[i]
		for _, ends := range md.ends[c.node : c.node+c.Length] {
			for _, e := range ends {
				also(int(md.owner[e.cell]))
			}
		}
	})
}

// joined groups what is joined, apart from what is seen already.
func joined(seen []bool, near func(of int, also func(int))) [][]int {
	var groups [][]int
	for i := range seen {
		if seen[i] {
			continue
		}
		seen[i] = true
		group := []int{i}
		for at := 0; at < len(group); at++ {
			near(group[at], func(other int) {
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

func (md *model) cellsOf(component []int) int {
	cells := 0
	for _, i := range component {
		cells += md.choices[i].Length
	}
	return cells
}

func (r *rounding) componentCost(component []int) int64 {
	total := int64(0)
	for _, i := range component {
		total += r.md.choices[i].gaps(r.sets[i])
		node := r.md.choices[i].node
		for _, p := range r.sets[i] {
			cell := node + int(p) - 1
			total += r.md.own[cell]
			for _, e := range r.md.endsIn(cell, cell+1, len(r.md.own)) {
				total += r.taken(e)
			}
		}
	}
	return total
}

func (r *rounding) copyComponent(component []int, to assignment) {
	for _, i := range component {
		to[i] = append(to[i][:0], r.sets[i]...)
	}
}

func (r *rounding) loadComponent(component []int, from assignment) {
	for _, i := range component {
		r.put(i, from[i])
	}
}
