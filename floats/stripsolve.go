package floats

// jointSweep sweeps along a strip. cost holds, by track and position, what a catch costs;
// back the least cost from each joint state to the end.
type jointSweep struct {
	md      *model
	s       *strip
	cost    []moveCosts // by track
	seams   []seamCosts // by track
	back    [][]int64   // by step, before it; one more for the end
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

func (w *jointSweep) runBack() {
	total := 1
	for i := range w.s.steps {
		total += w.s.steps[i].hi * w.s.steps[i].lo * w.s.steps[i].was
	}
	w.slab = grow(w.slab, total)
	w.back = w.back[:0]
	at := 0
	for i := range w.s.steps {
		n := w.s.steps[i].hi * w.s.steps[i].lo * w.s.steps[i].was
		w.back = append(w.back, w.slab[at:at+n])
		at += n
	}
	w.back = append(w.back, w.slab[at:at+1])
	w.back[len(w.s.steps)][0] = 0
	for i := len(w.s.steps) - 1; i >= 0; i-- {
		w.backStep(i)
	}
}

func (w *jointSweep) least() int64 { return w.back[0][0] }

// movesOf lists the moves of a step. A piece opens in any state of its seam, and
// closing leads every state to the one left.
func (w *jointSweep) movesOf(st *step) []move {
	switch st.k {
	case openStep:
		return opening[:st.now]
	case closeStep:
		return closing[:st.was]
	}
	return w.s.tracks[st.track].auto.moves[st.k]
}

var opening, closing = seamMoves()

func seamMoves() (opening, closing []move) {
	for i := range int32(1 << 12) {
		opening = append(opening, move{to: i, gap: -1, end: -1})
		closing = append(closing, move{from: i, gap: -1, end: -1})
	}
	return opening, closing
}

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

func (w *jointSweep) backStep(i int) {
	st := &w.s.steps[i]
	old, next := w.back[i], w.back[i+1]
	for at := range old {
		old[at] = far
	}
	pen := w.meet(st)
	for j, m := range w.movesOf(st) {
		cost := w.priceOf(st, j, m)
		for h := range st.hi {
			dst := old[(h*st.was+int(m.from))*st.lo:][:st.lo]
			src := next[(h*st.now+int(m.to))*st.lo:][:st.lo]
			relax(dst, src, pen, cost, h*st.lo, m.caught)
		}
		w.steps += int64(st.hi * st.lo)
	}
}

// relax lowers dst to src plus what the move costs.
func relax(dst, src, pen []int64, cost int64, at int, caught bool) {
	if caught && pen != nil {
		p := pen[at:][:len(dst)]
		for l := range dst {
			dst[l] = min(dst[l], src[l]+cost+p[l])
		}
		return
	}
	for l := range dst {
		dst[l] = min(dst[l], src[l]+cost)
	}
}

// begin starts a sweep forward.
func (w *jointSweep) begin() {
	w.forward = append(w.forward[:0], 0)
}

// through is the least of all that take a move at step i.
func (w *jointSweep) through(i, j int, m move, pen []int64) int64 {
	st, best := &w.s.steps[i], far
	for h := range st.hi {
		src := w.forward[(h*st.was+int(m.from))*st.lo:][:st.lo]
		dst := w.back[i+1][(h*st.now+int(m.to))*st.lo:][:st.lo]
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
		for h := range st.hi {
			src := w.forward[(h*st.was+int(m.from))*st.lo:][:st.lo]
			dst := w.next[(h*st.now+int(m.to))*st.lo:][:st.lo]
			relax(dst, src, pen, cost, h*st.lo, m.caught)
		}
		w.steps += int64(st.hi * st.lo)
	}
	w.forward, w.next = w.next, w.forward
}

// sets reads the best sets back, by track, positions ascending. It needs runBack.
func (w *jointSweep) sets() [][]int32 {
	sets := make([][]int32, len(w.s.tracks))
	at := 0
	for i := range w.s.steps {
		st := &w.s.steps[i]
		l, s, h := at%st.lo, at/st.lo%st.was, at/st.lo/st.was
		pen := w.meet(st)
		for j, m := range w.movesOf(st) {
			if int(m.from) != s {
				continue
			}
			cost, to := w.priceOf(st, j, m), (h*st.now+int(m.to))*st.lo+l
			if m.caught && pen != nil {
				cost += pen[h*st.lo+l]
			}
			if w.back[i+1][to]+cost == w.back[i][at] {
				if m.caught {
					t := &w.s.tracks[st.track]
					sets[st.track] = append(sets[st.track], int32(t.position(st.k)))
				}
				at = to
				break
			}
		}
	}
	return sets
}
