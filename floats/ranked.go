package floats

import (
	"slices"
	"sort"
)

// ranked lists the sets of a choice from the cheapest on, one at a time. The back costs are
// exact, so a partial set is ranked by what it will cost when finished: the search never opens a
// set that is not among the cheapest so far. Equal sets come in a fixed order.
type ranked struct {
	w       *paths
	waiting []*partial // the next to go on comes last
	begun   int        // how many sets were begun
}

type partial struct {
	before  *partial // nil for the start of the float
	p       int      // position of the last catch
	segment int32    // and its segment
	spent   int64    // cost so far
	total   int64    // what it will cost at least when finished
}

// rank starts the list. The paths must not be set anew while it is used.
func rank(w *paths) *ranked {
	w.runBack()
	r := &ranked{w: w}
	for _, i := range w.shape.starts {
		r.onward(&partial{p: w.shape.start, segment: i})
	}
	return r
}

// onward begins every set that goes one catch on from one begun. Of equal ones the one begun last
// goes on first: so a long float whose best sets are many and equal is finished before all of them
// are begun.
func (r *ranked) onward(from *partial) {
	w, i := r.w, from.segment+1
	g := w.shape.segments[i]
	lo, hi := w.shape.to(g, from.p)
	for p := lo; p <= hi; p++ {
		spent := from.spent + w.step(from.p, p)
		next := &partial{from, p, i, spent + w.own(g, p), spent + w.back[g.state(p)]}
		at := sort.Search(len(r.waiting), func(k int) bool { return r.waiting[k].total < next.total })
		r.waiting = slices.Insert(r.waiting, at, next)
		r.begun++
	}
}

// next returns the next cheapest set and its cost, or false when all were listed.
func (r *ranked) next() (set []int32, cost int64, ok bool) {
	for len(r.waiting) > 0 {
		end := len(r.waiting) - 1
		top := r.waiting[end]
		r.waiting = r.waiting[:end]
		if g := r.w.shape.segments[top.segment]; g.j == g.count {
			for at := top; at.before != nil; at = at.before {
				set = append(set, int32(at.p))
			}
			slices.Reverse(set)
			return set, top.total, true
		}
		r.onward(top)
	}
	return nil, 0, false
}

// bound is a lower bound on the sets not yet listed, far when there are none.
func (r *ranked) bound() int64 {
	if len(r.waiting) == 0 {
		return far
	}
	return r.waiting[len(r.waiting)-1].total
}
