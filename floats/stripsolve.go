package floats

import "sync"

// jointSweep sweeps along a strip. cost holds, by track and position, what a catch costs;
// back the least cost from each joint state to the end, block by block.
type jointSweep struct {
	md      *model
	s       *strip
	cost    []moveCosts    // by track
	seams   []seamCosts    // by track
	back    [block][]int64 // by step from first on, before it
	first   int
	saved   [][]int64 // by block, before its first step
	forward []int64
	next    []int64
	pen     []int64
	slab    []int64
	steps   int64
}

// moveCosts is what each move of a piece costs, by step - from.
type moveCosts [][]int64

// movesCost prices the moves of a piece from what catches cost, by position in
// knitting order - 1, and the gaps, of which it bears its part.
func (md *model) movesCost(t *track, cost []int64) moveCosts {
	var all moveCosts
	c := &md.choices[t.choice]
	gap := func(g int32) int64 {
		if g < 0 {
			return 0
		}
		return t.part.take(int64(gapWeight(int(g), md.limit)*c.stand) * unit)
	}
	for k := t.from; k < t.to; k++ {
		costs := make([]int64, 0, len(t.auto.moves[k]))
		for _, m := range t.auto.moves[k] {
			x := gap(m.gap) + gap(m.end)
			if m.caught {
				x += cost[t.position(k)-1]
			}
			costs = append(costs, x)
		}
		all = append(all, costs)
	}
	return all
}

// load makes the sweep ready for a strip and its costs.
func (w *jointSweep) load(s *strip, cost []moveCosts, seams []seamCosts) {
	w.s, w.cost, w.seams = s, cost, seams
	w.runBack()
}

// block is how many steps' costs are at hand at once; of the others only each first
// of a block is kept, and a block is worked out again when the sweep comes to it.
const block = 12

func (w *jointSweep) runBack() {
	n := len(w.s.steps)
	for len(w.saved) <= n/block {
		w.saved = append(w.saved, nil)
	}
	for at := (n - 1) / block * block; at >= 0; at -= block {
		w.fill(at)
		w.saved[at/block] = append(w.saved[at/block][:0], w.back[0]...)
	}
}

var theEnd = []int64{0}

// fill works out the block of costs from step at on.
func (w *jointSweep) fill(at int) {
	end := min(at+block, len(w.s.steps))
	total := 0
	for _, st := range w.s.steps[at:end] {
		total += st.hi * st.lo * st.was
	}
	w.slab = grow(w.slab, total)
	next, free := theEnd, w.slab
	if end < len(w.s.steps) {
		next = w.saved[end/block]
	}
	for i := end - 1; i >= at; i-- {
		st := &w.s.steps[i]
		n := st.hi * st.lo * st.was
		w.back[i-at], free = free[:n], free[n:]
		w.backStep(i, w.back[i-at], next)
		next = w.back[i-at]
	}
	w.first = at
}

// backAt is the least cost to the end from each joint state before a step.
func (w *jointSweep) backAt(i int) []int64 {
	if i == len(w.s.steps) {
		return theEnd
	}
	if at := i / block * block; at != w.first {
		w.fill(at)
	}
	return w.back[i-w.first]
}

func (w *jointSweep) least() int64 { return w.backAt(0)[0] }

// movesOf lists the moves of a step. A piece opens in any state of its seam, and
// closing leads every state to the one left.
func (w *jointSweep) movesOf(st *step) []move {
	switch st.k {
	case openStep:
		opening, _ := seamMoves()
		return opening[:st.now]
	case closeStep:
		_, closing := seamMoves()
		return closing[:st.was]
	}
	return w.s.tracks[st.track].auto.moves[st.k]
}

// seamMoves are the moves into and out of every state, made when a seam is first
// met: made as the program starts, they would take a tenth of every step's time.
var seamMoves = sync.OnceValues(func() (opening, closing []move) {
	for i := range int32(1 << 12) {
		opening = append(opening, move{to: i, gap: -1, end: -1})
		closing = append(closing, move{from: i, gap: -1, end: -1})
	}
	return opening, closing
})

// priceOf is what move j of a step costs by itself.
func (w *jointSweep) priceOf(st *step, j int, m move) int64 {
	if st.k < 0 {
		return w.atSeam(st, m)
	}
	return w.cost[st.track][st.k-w.s.tracks[st.track].from][j]
}

// seamCosts is what each state costs a piece at the seam where it starts and at the
// one where it ends, nil where there is none.
type seamCosts [2][]int64

func (t *track) seamCosts() (costs seamCosts) {
	if t.opens() {
		costs[0] = make([]int64, len(t.auto.after[t.from]))
	}
	if t.closes() {
		costs[1] = make([]int64, len(t.auto.after[t.to]))
	}
	return costs
}

func (w *jointSweep) atSeam(st *step, m move) int64 {
	switch {
	case st.k == openStep:
		return w.seams[st.track][0][m.to]
	case w.s.tracks[st.track].closes():
		return w.seams[st.track][1][m.from]
	}
	return 0
}

// meet works out what a catch at this step pays for meeting those read before.
func (w *jointSweep) meet(st *step) []int64 {
	if len(st.peers) == 0 {
		return nil
	}
	w.pen = grow(w.pen, st.hi*st.lo)
	clear(w.pen)
	for _, pr := range st.peers {
		for s, m := range w.s.tracks[pr.track].auto.after[pr.after] {
			if m.caughtAt(pr.p) {
				w.lay(st, pr, s)
			}
		}
	}
	return w.pen
}

func (w *jointSweep) lay(st *step, pr peer, state int) {
	before, size, after := pr.around[1], pr.around[2], pr.around[3]
	for b := range before {
		for a := range after {
			at := (b*size+state)*after + a
			if pr.around[0] == 1 {
				row := w.pen[at*st.lo : (at+1)*st.lo]
				for l := range row {
					row[l] += pr.weight
				}
				continue
			}
			for h := range st.hi {
				w.pen[h*st.lo+at] += pr.weight
			}
		}
	}
}

func (w *jointSweep) backStep(i int, old, next []int64) {
	st := &w.s.steps[i]
	for at := range old {
		old[at] = far
	}
	pen := w.meet(st)
	for j, m := range w.movesOf(st) {
		cost := w.priceOf(st, j, m)
		relax(st, old, next, pen, cost, int(m.from), st.was, int(m.to), st.now, m.caught)
		w.steps += int64(st.hi * st.lo)
	}
}

// relax lowers dst to src plus what a move costs, for all states of the other tracks.
// Slices are cut by track, or, when few states lie after it, stepped through at once.
func relax(st *step, dst, src, pen []int64, cost int64, d, dn, s, sn int, caught bool) {
	if !caught {
		pen = nil
	}
	if st.lo == 1 {
		relaxLast(st.hi, dst[d:], src[s:], pen, cost, dn, sn)
		return
	}
	for h := range st.hi {
		to := dst[(h*dn+d)*st.lo:][:st.lo]
		from := src[(h*sn+s)*st.lo:][:st.lo]
		if pen != nil {
			p := pen[h*st.lo:][:st.lo]
			for l := range to {
				to[l] = min(to[l], from[l]+cost+p[l])
			}
			continue
		}
		for l := range to {
			to[l] = min(to[l], from[l]+cost)
		}
	}
}

// relaxLast is relax where no track comes after.
func relaxLast(hi int, dst, src, pen []int64, cost int64, dn, sn int) {
	i, j := 0, 0
	if pen != nil {
		for _, p := range pen[:hi] {
			dst[i] = min(dst[i], src[j]+cost+p)
			i, j = i+dn, j+sn
		}
		return
	}
	for range hi {
		dst[i] = min(dst[i], src[j]+cost)
		i, j = i+dn, j+sn
	}
}

// begin starts a sweep forward.
func (w *jointSweep) begin() {
	w.forward = append(w.forward[:0], 0)
}

// through is the least of all that take a move at step i.
func (w *jointSweep) through(i, j int, m move, pen []int64) int64 {
	st, best, back := &w.s.steps[i], far, w.backAt(i+1)
	for h := range st.hi {
		src := w.forward[(h*st.was+int(m.from))*st.lo:][:st.lo]
		dst := back[(h*st.now+int(m.to))*st.lo:][:st.lo]
		if m.caught && pen != nil {
			p := pen[h*st.lo:][:st.lo]
			for l := range src {
				best = min(best, src[l]+dst[l]+p[l])
			}
			continue
		}
		for l := range src {
			best = min(best, src[l]+dst[l])
		}
	}
	w.steps += int64(st.hi * st.lo)
	return best + w.priceOf(st, j, m)
}

// pass goes on over step i.
func (w *jointSweep) pass(i int) {
	st := &w.s.steps[i]
	w.next = grow(w.next, st.hi*st.now*st.lo)
	for at := range w.next {
		w.next[at] = far
	}
	pen := w.meet(st)
	for j, m := range w.movesOf(st) {
		cost := w.priceOf(st, j, m)
		relax(st, w.next, w.forward, pen, cost, int(m.to), st.now, int(m.from), st.was, m.caught)
		w.steps += int64(st.hi * st.lo)
	}
	w.forward, w.next = w.next, w.forward
}
