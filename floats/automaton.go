package floats

// automaton is the sets of catches of one shape read position by position, as the
// joint sweep over several floats needs them: after each position a state remembers
// just enough to go on (which catch of which layer came last and where, and whether
// the position before it was caught too, for catches beside it in other rows). A row
// knitted the other way is read from its end: the mirrored automaton.
type automaton struct {
	n        int
	segments []segment
	after    [][]moment // states after so many positions, 0..n
	moves    [][]move   // by position - 1
}

// moment is a state: the last catch, or none yet.
type moment struct {
	segment int32 // begun is -1, done (so far behind that it cannot matter) is -2
	p       int32 // position of the last catch
	twin    bool  // the position before p is caught as well; kept only at p itself
}

const (
	begun = -1
	done  = -2
)

// move leads over one position.
type move struct {
	from, to int32
	caught   bool
	gap, end int32 // lengths of the gaps it closes, -1 for none
}

// builder makes an automaton.
type builder struct {
	s        *shape
	mirror   bool
	segments []segment
	a        *automaton
	known    map[moment]int32
}

func newAutomaton(s *shape, mirror bool) *automaton {
	b := &builder{s: s, mirror: mirror, segments: s.segments, a: &automaton{n: s.n}}
	if mirror {
		b.segments = mirrored(s)
	}
	b.a.segments = b.segments
	b.a.after = [][]moment{{{segment: begun}}}
	for p := 1; p <= s.n; p++ {
		b.step(int32(p))
	}
	return b.a
}

func mirrored(s *shape) []segment {
	out := make([]segment, len(s.segments))
	for i, g := range s.segments {
		at := i + g.count + 1 - 2*g.j // catch count+1-j of the same layer
		out[at] = segment{count: g.count, j: g.count + 1 - g.j, lo: s.n + 1 - g.hi, hi: s.n + 1 - g.lo}
	}
	return out
}

// step adds the states after position p.
func (b *builder) step(p int32) {
	b.known = map[moment]int32{}
	b.a.after = append(b.a.after, nil)
	b.a.moves = append(b.a.moves, nil)
	for from, m := range b.a.after[p-1] {
		if b.canWait(m, p) {
			b.add(int32(from), b.waited(m, p), p, false, -1, -1)
		}
		b.catch(int32(from), m, p)
	}
}

func (b *builder) add(from int32, to moment, p int32, caught bool, gap, end int32) {
	at, ok := b.known[to]
	if !ok {
		at = int32(len(b.a.after[p]))
		b.known[to] = at
		b.a.after[p] = append(b.a.after[p], to)
	}
	b.a.moves[p-1] = append(b.a.moves[p-1], move{from, at, caught, gap, end})
}

// waited is the state m with p passed by.
func (b *builder) waited(m moment, p int32) moment {
	m.twin = false
	if m.segment >= 0 && b.segments[m.segment].last() && m.p < p-1 {
		return moment{segment: done}
	}
	return m
}

// canWait reports whether a set may go on past p without a catch there.
func (b *builder) canWait(m moment, p int32) bool {
	switch {
	case m.segment == done || m.segment >= 0 && b.segments[m.segment].last():
		return true
	case m.segment == begun:
		for _, g := range b.segments {
			if g.first() && g.hi > int(p) {
				return true
			}
		}
		return false
	}
	lo, hi := b.s.to(b.segments[m.segment+1], int(m.p))
	return max(lo, int(p)+1) <= hi
}

func (b *builder) catch(from int32, m moment, p int32) {
	switch {
	case m.segment == done:
	case m.segment == begun:
		for i, g := range b.segments {
			if g.first() && g.contains(int(p)) {
				b.add(from, moment{int32(i), p, false}, p, true, b.firstGap(p), b.endGap(g, p))
			}
		}
	case !b.segments[m.segment].last():
		g := b.segments[m.segment+1]
		if lo, hi := b.s.to(g, int(m.p)); lo <= int(p) && int(p) <= hi {
			to := moment{m.segment + 1, p, m.p == p-1}
			b.add(from, to, p, true, int32(b.s.stepGap(int(p-m.p))), b.endGap(g, p))
		}
	}
}

func (b *builder) firstGap(p int32) int32 {
	if b.mirror {
		return int32(b.s.lastGap(b.s.n + 1 - int(p)))
	}
	return int32(b.s.firstGap(int(p)))
}

func (b *builder) endGap(g segment, p int32) int32 {
	switch {
	case !g.last():
		return -1
	case b.mirror:
		return int32(b.s.firstGap(b.s.n + 1 - int(p)))
	}
	return int32(b.s.lastGap(int(p)))
}

// caughtAt reports whether the state has a catch on position p, one of the last two.
func (m moment) caughtAt(p int32) bool {
	return m.segment >= 0 && (m.p == p || m.twin && m.p == p+1)
}

// stateOf follows a set of so many catches over the first steps to its state.
func (a *automaton) stateOf(caught func(step int) bool, count, steps int) int32 {
	at := int32(0)
	for k := range steps {
		for _, m := range a.moves[k] {
			to := a.after[k+1][m.to].segment
			if m.from == at && m.caught == caught(k) && (to < 0 || a.segments[to].count == count) {
				at = m.to
				break
			}
		}
	}
	return at
}
