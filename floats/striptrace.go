package floats

// traced is how one piece goes through its automaton in the best joint way.
type traced struct {
	moves []int    // by step - from
	seams [2]int32 // states where it starts and ends
	set   []int32  // positions caught, in reading order
}

// trace reads the best joint way back, by track. It needs runBack.
func (w *jointSweep) trace() []traced {
	all := make([]traced, len(w.s.tracks))
	at, left := 0, w.least()
	for i := range w.s.steps {
		st := &w.s.steps[i]
		j, m := w.bestMove(i, at, left)
		l, h := at%st.lo, at/st.lo/st.was
		at = (h*st.now+int(m.to))*st.lo + l
		left = w.backAt(i + 1)[at]
		t := &all[st.track]
		switch st.k {
		case openStep:
			t.seams[0] = m.to
		case closeStep:
			t.seams[1] = m.from
		default:
			t.moves = append(t.moves, j)
			if m.caught {
				t.set = append(t.set, int32(w.s.tracks[st.track].position(st.k)))
			}
		}
	}
	return all
}

// bestMove is the first move from a joint state that the least cost, left, takes.
func (w *jointSweep) bestMove(i, at int, left int64) (int, move) {
	st := &w.s.steps[i]
	l, s, h := at%st.lo, at/st.lo%st.was, at/st.lo/st.was
	back := w.backAt(i + 1) // before meet: it may work out a block, which meets too
	pen := w.meet(st)
	for j, m := range w.movesOf(st) {
		if int(m.from) != s {
			continue
		}
		cost, to := w.priceOf(st, j, m), (h*st.now+int(m.to))*st.lo+l
		if m.caught && pen != nil {
			cost += pen[h*st.lo+l]
		}
		if back[to]+cost == left {
			return j, m
		}
	}
	panic("floats: the cheapest joint way breaks off")
}
