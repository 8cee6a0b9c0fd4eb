package floats

import "slices"

// Where no float can better itself alone, neighbours may together. A group of a few
// coupled floats is solved again with all others as they are: each gets a short list
// of its best sets, and the best combination is found by depth-first search, cut off
// where it cannot beat what the group costs now.

const (
	groupSize = 4   // floats solved together
	groupList = 10  // sets listed of each
	groupMost = 500 // combinations begun of one group
)

// regroup passes over the choices of a part once, as far as so many steps go, and tells
// whether anything changed.
func (r *rounding) regroup(part []int, steps int64) bool {
	changed, end := false, r.spent+steps
	for _, i := range part {
		if r.spent >= end {
			break
		}
		if group := r.groupOf(i); len(group) > 1 {
			changed = r.solveGroup(group) || changed
		}
	}
	return changed
}

// Steps that solving a group counts for, and each combination begun in it.
const (
	groupSteps = 1000
	beginSteps = 25
)

// groupOf is a choice and the nearest of the later choices it is coupled with.
func (r *rounding) groupOf(i int) []int {
	c := &r.md.choices[i]
	group := []int{i}
	for cell := c.node; cell < c.node+c.Length; cell++ {
		for _, e := range r.md.endsOf(cell) {
			if other := int(r.md.owner[e.cell]); other > i && r.md.together(i, e) && !slices.Contains(group, other) {
				group = append(group, other)
			}
		}
	}
	slices.Sort(group)
	return group[:min(len(group), groupSize)]
}

// regrouping is the search over one group.
type regrouping struct {
	r     *rounding
	group []int
	sets  [][][]int32 // of each, the listed sets
	cost  [][]int64   // their costs against all outside the group
	least []int64     // the least cost of all from one on
	pick  []int
	best  []int // nil while nothing beats the present sets
	bound int64 // cost to beat
	begun int   // combinations begun
}

func (r *rounding) solveGroup(group []int) bool {
	s := &regrouping{r: r, group: group, pick: make([]int, len(group)), least: make([]int64, len(group)+1)}
	present := make(assignment, len(group))
	for k, i := range group {
		present[k] = slices.Clone(r.sets[i])
		r.put(i, nil)
	}
	for k, i := range group {
		r.priceAgainst(i, r.taken)
		s.list(i)
		s.bound += r.costOf(i, present[k])
		r.put(i, present[k]) // what follows pays for meeting it
	}
	for _, i := range group {
		r.put(i, nil)
	}
	s.price()
	s.search(0, 0)
	r.spent += groupSteps + beginSteps*int64(s.begun)
	for k, i := range group {
		set := present[k]
		if s.best != nil {
			set = s.sets[k][s.best[k]]
		}
		r.put(i, set)
	}
	return s.best != nil
}

// list notes the cheapest sets of a choice at the costs set before.
func (s *regrouping) list(i int) {
	var sets [][]int32
	list := rank(&s.r.w)
	for len(sets) < groupList {
		set, _, ok := list.next()
		if !ok {
			break
		}
		sets = append(sets, set)
	}
	s.sets = append(s.sets, sets)
}

// price costs the listed sets against all outside the group, which is lifted.
func (s *regrouping) price() {
	for k, i := range s.group {
		s.r.priceAgainst(i, s.r.taken)
		var costs []int64
		for _, set := range s.sets[k] {
			costs = append(costs, s.r.costOf(i, set))
		}
		s.cost = append(s.cost, costs)
	}
	for k := len(s.group) - 1; k >= 0; k-- {
		s.least[k] = s.least[k+1] + slices.Min(s.cost[k])
	}
}

// search tries the sets of float k and on; those before it are laid.
func (s *regrouping) search(k int, spent int64) {
	if spent+s.least[k] >= s.bound {
		return
	}
	if k == len(s.group) {
		s.best, s.bound = slices.Clone(s.pick), spent
		return
	}
	i := s.group[k]
	for n, set := range s.sets[k] {
		if s.begun++; s.begun > groupMost {
			return
		}
		cost := spent + s.cost[k][n] + s.meets(i, set, k)
		if cost+s.least[k+1] >= s.bound {
			continue
		}
		s.r.put(i, set)
		s.pick[k] = n
		s.search(k+1, cost)
		s.r.put(i, nil)
	}
}

// meets is what a set pays for meeting the sets laid of the group's first floats.
func (s *regrouping) meets(i int, set []int32, k int) int64 {
	total := int64(0)
	node := s.r.md.choices[i].node
	for _, p := range set {
		for _, e := range s.r.md.endsOf(node + int(p) - 1) {
			if s.r.caught[e.cell] && slices.Contains(s.group[:k], int(s.r.md.owner[e.cell])) {
				total += s.r.md.couplings[e.coupling].weight
			}
		}
	}
	return total
}
