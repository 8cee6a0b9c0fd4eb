package floats

import (
	"cmp"
	"slices"
)

// ranked lists the sets of a choice from the cheapest on, one at a time. The back costs are
// exact, so a partial set is ranked by what it will cost when finished: the search never opens a
// set that is not among the cheapest so far. Equal sets come in a fixed order.
type ranked struct {
	w       *paths
	begun   []partial // every set begun, in order of making
	waiting []ticket  // the next to go on comes last
}

// partial is a set begun: its last catch and, through parent, those before.
type partial struct {
	spent   int64 // cost so far
	segment int32 // of the last catch
	p       int32 // position of the last catch
	parent  int32 // index into begun, -1 for none
}

// rank starts the list. The paths must not be set anew while it is used.
func rank(w *paths) *ranked {
	w.runBack()
	r := &ranked{w: w}
	for _, i := range w.shape.starts {
		r.onward(partial{segment: i, p: int32(w.shape.start)}, -1)
	}
	return r
}

// onward begins every set that goes one catch on from one begun.
func (r *ranked) onward(from partial, parent int32) {
	w, i := r.w, from.segment+1
	g := w.shape.segments[i]
	lo, hi := w.shape.to(g, int(from.p))
	for p := lo; p <= hi; p++ {
		before := from.spent + w.step(int(from.p), p)
		r.begun = append(r.begun, partial{before + w.own(g, p), i, int32(p), parent})
		t := ticket{before + w.back[g.state(p)], int32(len(r.begun) - 1)}
		at, _ := slices.BinarySearchFunc(r.waiting, t, ticket.compare)
		r.waiting = slices.Insert(r.waiting, at, t)
	}
}

// next returns the next cheapest set and its cost, or false when all were listed.
func (r *ranked) next() (set []int32, cost int64, ok bool) {
	for len(r.waiting) > 0 {
		end := len(r.waiting) - 1
		top := r.waiting[end]
		r.waiting = r.waiting[:end]
		last := r.begun[top.begun]
		if g := r.w.shape.segments[last.segment]; g.j == g.count {
			return r.set(top.begun, g.count), top.total, true
		}
		r.onward(last, top.begun)
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

func (r *ranked) set(at int32, count int) []int32 {
	set := make([]int32, count)
	for i := count - 1; i >= 0; i-- {
		set[i] = r.begun[at].p
		at = r.begun[at].parent
	}
	return set
}

// ticket is a set begun in the queue: what it will cost at least when finished.
// Of equal ones the one begun last goes on first, the same on every run: so a long float whose
// best sets are many and equal is finished before all of them are begun.
type ticket struct {
	total int64
	begun int32
}

// compare orders tickets so that the one to go on comes last.
func (t ticket) compare(o ticket) int {
	return cmp.Or(cmp.Compare(o.total, t.total), cmp.Compare(t.begun, o.begun))
}
