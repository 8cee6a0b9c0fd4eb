package floats

import "slices"

func (s *strips) sweep(upward bool) {
	n := len(s.list)
	for k := range n {
		if !upward {
			k = n - 1 - k
		}
		s.visit(k, upward)
	}
}

func onward(from, to int, upward bool) bool { return upward && to > from || !upward && to < from }

func ahead(upward bool) int {
	if upward {
		return 1
	}
	return -1
}

// visit hands on what the cells and seams of a strip can spare.
func (s *strips) visit(k int, upward bool) {
	if upward {
		s.open(k, upward)
	}
	s.load(k)
	one := s.list[k]
	s.w.begin()
	for i := range one.steps {
		st := &one.steps[i]
		t := &one.tracks[st.track]
		switch {
		case st.k >= 0:
			s.hand(i, t, upward)
		case st.k == closeStep && t.closes():
			s.handSeam(k, i, upward)
		}
		s.w.pass(i)
	}
	if !upward {
		s.open(k, upward)
	}
}

// open hands on what the seams at the start of a strip can spare.
func (s *strips) open(k int, upward bool) {
	one := s.list[k]
	if one.steps[0].k != openStep {
		return
	}
	s.load(k)
	s.w.begin()
	for i := 0; one.steps[i].k == openStep; i++ {
		s.handSeam(k, i, upward)
		s.w.pass(i)
	}
}

// handSeam hands what each state at a seam costs more than the best to the next
// place where that seam is priced.
func (s *strips) handSeam(k, i int, upward bool) {
	st := &s.list[k].steps[i]
	side := 0
	if st.k == closeStep {
		side = 1
	}
	chain := s.chain[s.list[k].tracks[st.track].seams[side]]
	at := slices.Index(chain, seamPlace{place{k, st.track}, side})
	next := at + ahead(upward)
	if next < 0 || next >= len(chain) {
		return
	}
	through, least := s.throughs(i)
	to := chain[next]
	mine, other := s.seams[k][st.track][side], s.seams[to.strip][to.track][to.side]
	for j := range through {
		if through[j] >= far/2 {
			continue
		}
		mine[j] -= through[j] - least
		other[j] += through[j] - least
	}
}

// throughs is, by move of step i, the least that takes it, and the least of all.
func (s *strips) throughs(i int) (through []int64, least int64) {
	st := &s.list[s.now].steps[i]
	s.w.backAt(i + 1) // before meet: it may work out a block, which meets too
	pen := s.w.meet(st)
	moves := s.w.movesOf(st)
	s.through, least = grow(s.through, len(moves)), far
	for j, m := range moves {
		s.through[j] = s.w.through(i, j, m, pen)
		least = min(least, s.through[j])
	}
	return s.through, least
}

// hand hands on what the moves of a step cost more than the best: first what a catch
// can spare to loose couplings, then all to the other strip of the piece.
func (s *strips) hand(i int, t *track, upward bool) {
	st := &s.list[s.now].steps[i]
	cell := s.md.choices[t.choice].node + t.position(st.k) - 1
	places := s.where[s.pieceOf[cell]]
	var other []int64
	if next := slices.IndexFunc(places, func(at place) bool { return at.strip == s.now }) + ahead(upward); next >= 0 && next < len(places) {
		other = s.cost[places[next].strip][places[next].track][st.k-t.from]
	}
	ends := s.looseEnds(cell, upward)
	if other == nil && len(ends) == 0 {
		return
	}
	through, least := s.throughs(i)
	mine := s.cost[s.now][st.track][st.k-t.from]
	if raised := s.giveLoose(ends, t.auto.moves[st.k], through); raised != 0 {
		least = far
		for j, m := range t.auto.moves[st.k] {
			if m.caught {
				through[j] += raised
				mine[j] += raised
			}
			least = min(least, through[j])
		}
	}
	if other == nil {
		return
	}
	for j := range mine {
		if through[j] < far/2 {
			mine[j] -= through[j] - least
			other[j] += through[j] - least
		}
	}
}

// looseEnds lists the loose couplings of a cell that lead onward, if this is the
// strip that pays its shares.
func (s *strips) looseEnds(cell int, upward bool) []end {
	if s.where[s.pieceOf[cell]][0].strip != s.now {
		return nil
	}
	var ends []end
	for _, e := range s.md.endsOf(cell) {
		if s.loose[e.coupling] && s.md.owner[e.cell] != s.md.owner[cell] && onward(s.now, s.where[s.pieceOf[e.cell]][0].strip, upward) {
			ends = append(ends, e)
		}
	}
	return ends
}

// giveLoose spreads what a catch can spare over loose couplings and tells by how
// much the catch costs more.
func (s *strips) giveLoose(ends []end, moves []move, through []int64) int64 {
	if len(ends) == 0 {
		return 0
	}
	with, without := far, far
	for j, m := range moves {
		if m.caught {
			with = min(with, through[j])
		} else {
			without = min(without, through[j])
		}
	}
	if with >= far/2 || without >= far/2 {
		return 0
	}
	spare, raised, left := with-without, int64(0), int64(len(ends)+1)
	for _, e := range ends {
		was := s.share[e.coupling]
		now := min(max(was-spare/left, 0), s.md.couplings[e.coupling].weight)
		s.share[e.coupling] = now
		s.raise(int(e.cell), now-was)
		s.rest -= now - was
		raised += now - was
		spare += now - was
		left--
	}
	return raised
}
