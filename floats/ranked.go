package floats

import "container/heap"

// ranked lists the sets of a choice from the cheapest on, one at a time. The back
// costs are exact, so a partial set is ranked by what it will cost when finished:
// the search never opens a set that is not among the cheapest so far. Equal sets
// come in a fixed order.
type ranked struct {
	w    *paths
	heap partialHeap
	made int
}

// partial is a set begun: its last catch and, through parent, those before.
type partial struct {
	total   int64 // cost of the cheapest set that begins so
	spent   int64 // cost so far
	serial  int   // order of making, to break ties the same way always
	segment int   // of the last catch
	p       int   // position of the last catch
	parent  *partial
}

// rank starts the list. The paths must not be set anew while it is used.
func rank(w *paths) *ranked {
	w.runBack()
	r := &ranked{w: w}
	for i, g := range w.shape.segments {
		for p := g.lo; g.first() && p <= g.hi; p++ {
			r.push(w.gap[w.shape.firstGap(p)], i, p, nil)
		}
	}
	return r
}

func (r *ranked) push(spent int64, segment, p int, parent *partial) {
	g := r.w.shape.segments[segment]
	spent += r.w.cost[p-1]
	r.made++
	heap.Push(&r.heap, &partial{
		total: spent + r.w.back[g.state(p)], spent: spent, serial: r.made,
		segment: segment, p: p, parent: parent,
	})
}

// next returns the next cheapest set and its cost, or false when all were listed.
func (r *ranked) next() (set []int32, cost int64, ok bool) {
	for len(r.heap) > 0 {
		top := heap.Pop(&r.heap).(*partial)
		g := r.w.shape.segments[top.segment]
		if g.last() {
			return top.set(g.count), top.total, true
		}
		next := r.w.shape.segments[top.segment+1]
		lo, hi := r.w.shape.to(next, top.p)
		for q := lo; q <= hi; q++ {
			r.push(top.spent+r.w.gap[r.w.shape.stepGap(q-top.p)], top.segment+1, q, top)
		}
	}
	return nil, 0, false
}

// bound is a lower bound on the sets not yet listed, far when there are none.
func (r *ranked) bound() int64 {
	if len(r.heap) == 0 {
		return far
	}
	return r.heap[0].total
}

func (p *partial) set(count int) []int32 {
	set := make([]int32, count)
	for i := count - 1; i >= 0; i-- {
		set[i] = int32(p.p)
		p = p.parent
	}
	return set
}

type partialHeap []*partial

func (h partialHeap) Len() int { return len(h) }

func (h partialHeap) Less(i, j int) bool {
	if h[i].total != h[j].total {
		return h[i].total < h[j].total
	}
	return h[i].serial < h[j].serial
}
func (h partialHeap) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *partialHeap) Push(x any)   { *h = append(*h, x.(*partial)) }
func (h *partialHeap) Pop() any {
	old := *h
	last := old[len(old)-1]
	*h = old[:len(old)-1]
	return last
}
