package floats

import (
	"cmp"
	"slices"
)

// strip is a few floats solved together exactly: those of one row, or of two rows
// above each other. A sweep along the columns reads all their automata side by side;
// the joint states at any column are few, since few yarns are carried behind one
// stitch and each state reaches back a limit's stitches at most. Couplings between
// its cells are paid where the later one is read; the few that the states cannot see
// (a float that crosses into the next repeat meets the start of the row) stay outside.
type strip struct {
	tracks []track
	steps  []step
	most   int // joint states at most
}

// track is one piece of a choice in a strip.
type track struct {
	*piece
	part part
}

// piece is a choice, or the part of one before or after the seam where the repeat
// (or the round) begins: every piece lies within one row and one repeat.
type piece struct {
	choice   int
	row      int
	mirror   bool
	auto     *automaton
	from, to int    // steps of the automaton, in reading order
	x        []int  // by step - from: the column read, in the direction of the sweep
	seams    [2]int // numbers of the seams at its start and end, where it has any
}

// opens and closes report whether the piece starts and ends at a seam.
func (p *piece) opens() bool  { return p.from > 0 }
func (p *piece) closes() bool { return p.to < p.auto.n }

// part is how much of a cost a strip bears where several share it: one of so many
// parts, whole units that add up to the cost.
type part struct{ nth, of int }

func (h part) take(x int64) int64 {
	n, of := int64(h.nth), int64(h.of)
	return x*(n+1)/of - x*n/of
}

// step reads one position of one track, or, past its end, lets go of its states.
type step struct {
	track int
	k     int // position - 1 in reading order, or opening or closing
	x     int
	peers []peer
	hi    int // joint states of the tracks before this one, and after it
	lo    int
	was   int // states of this track before the step and after it
	now   int
}

// peer is a cell read before whose catch, together with this one, costs.
type peer struct {
	track  int
	p      int32 // position in reading order, from 1
	after  int   // positions of its track read by then
	weight int64
	around [4]int // for finding its states: whether in hi, and the sizes around it
}

// position is the position in knitting order read at step k.
func (p *piece) position(k int) int {
	if p.mirror {
		return p.auto.n - k
	}
	return k + 1
}

// automata makes each automaton of a piece once.
type automata map[automatonKey]*automaton

type automatonKey struct {
	n      int
	mirror bool
}

func (known automata) of(s *shape, mirror bool) *automaton {
	key := automatonKey{s.n, mirror}
	if _, ok := known[key]; !ok {
		known[key] = newAutomaton(s, mirror)
	}
	return known[key]
}

// pieces cuts a choice wherever its columns start again from the lowest. Its seams
// are numbered from seam on.
func (md *model) pieces(known automata, i int, seam int) []*piece {
	c := &md.choices[i]
	mirror := md.fabric.Rows[c.Row].FromLeft != md.fabric.Rows[0].FromLeft
	now := &piece{choice: i, row: c.Row, mirror: mirror, auto: known.of(c.shape, mirror), to: c.Length}
	all := []*piece{now}
	for k := range c.Length {
		at := md.siteOf(c, now.position(k), 0)
		x := md.sweepColumn(at)
		if n := len(now.x); n > 0 && x < now.x[n-1] {
			next := *now
			now.to, now.seams[1] = k, seam
			next.from, next.x, next.row, next.seams[0] = k, nil, at.row, seam
			now = &next
			all, seam = append(all, now), seam+1
		}
		now.x = append(now.x, x)
	}
	return all
}

// sweepColumn is the column of a site within the repeat, counted in the direction in
// which the first row is knitted.
func (md *model) sweepColumn(at site) int {
	width := len(md.fabric.Rows[at.row].Cells)
	x := md.fabric.stitchAt(at).Column % width
	if md.fabric.Rows[0].FromLeft {
		x = width - 1 - x
	}
	return x
}

// newStrip joins pieces into a strip. weigh tells what it pays for each coupling that
// it can see.
func (md *model) newStrip(tracks []track, weigh func(coupling int32) int64) *strip {
	s := &strip{tracks: tracks}
	s.orderSteps()
	s.findPeers(md, weigh)
	s.measure()
	return s
}

const (
	openStep  = -1
	closeStep = -2
)

func (s *strip) orderSteps() {
	rank := func(k int) int { return [...]int{0, 1, 2}[min(k+2, 2)] } // closing, opening, reading
	for j, t := range s.tracks {
		if t.opens() {
			s.steps = append(s.steps, step{track: j, k: openStep, x: -1})
		}
		for k := t.from; k < t.to; k++ {
			s.steps = append(s.steps, step{track: j, k: k, x: t.x[k-t.from]})
		}
		s.steps = append(s.steps, step{track: j, k: closeStep, x: t.x[len(t.x)-1] + 2})
	}
	slices.SortStableFunc(s.steps, func(a, b step) int {
		return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(rank(a.k), rank(b.k)), cmp.Compare(a.track, b.track))
	})
}

// findPeers lists, for each step, the couplings with cells read before that the
// states still remember: the last or last but one position of their track.
func (s *strip) findPeers(md *model, weigh func(int32) int64) {
	byChoice := map[int][]int{}
	read := make([]int, len(s.tracks))
	for j, t := range s.tracks {
		byChoice[t.choice] = append(byChoice[t.choice], j)
		read[j] = t.from
	}
	for i := range s.steps {
		st := &s.steps[i]
		switch t := &s.tracks[st.track]; st.k {
		case openStep:
		case closeStep:
			read[st.track] = -9
		default:
			node := md.choices[t.choice].node
			for _, e := range md.endsOf(node + t.position(st.k) - 1) {
				for _, j := range byChoice[int(md.owner[e.cell])] {
					s.addPeer(md, st, j, e, read[j], weigh)
				}
			}
			read[st.track] = st.k + 1
		}
	}
}

func (s *strip) addPeer(md *model, st *step, j int, e end, read int, weigh func(int32) int64) {
	o := &s.tracks[j]
	if j == st.track {
		return
	}
	p := int(e.cell) - md.choices[o.choice].node + 1
	if o.mirror {
		p = o.auto.n + 1 - p
	}
	if p <= o.from || p > o.to || p > read || p < read-1 {
		return
	}
	st.peers = append(st.peers, peer{track: j, p: int32(p), after: read, weight: weigh(e.coupling)})
}

// whole pays couplings in full.
func (md *model) whole(coupling int32) int64 { return md.couplings[coupling].weight }

// measure counts the joint states at every step.
func (s *strip) measure() {
	size := make([]int, len(s.tracks))
	for j := range size {
		size[j] = 1
	}
	for i := range s.steps {
		st := &s.steps[i]
		st.hi, st.lo = 1, 1
		for j, n := range size {
			if j < st.track {
				st.hi = min(st.hi*n, 1<<40)
			} else if j > st.track {
				st.lo = min(st.lo*n, 1<<40)
			}
		}
		st.was, st.now = size[st.track], 1
		switch t := &s.tracks[st.track]; st.k {
		case openStep:
			st.now = len(t.auto.after[t.from])
		case closeStep:
		default:
			st.now = len(t.auto.after[st.k+1])
		}
		for k := range st.peers {
			st.peers[k].around = around(size, st.track, st.peers[k].track)
		}
		s.most = max(s.most, min(st.hi*st.lo, 1<<40)*max(st.was, st.now))
		size[st.track] = st.now
	}
}

// around places track j among the joint states of the tracks before or after own.
func around(size []int, own, j int) [4]int {
	lo, hi, inHi := own+1, len(size), 0
	if j < own {
		lo, hi, inHi = 0, own, 1
	}
	before, after := 1, 1
	for i := lo; i < hi; i++ {
		if i < j {
			before *= size[i]
		} else if i > j {
			after *= size[i]
		}
	}
	return [4]int{inHi, before, size[j], after}
}

// effort is the steps of one pass over the strip.
func (s *strip) effort() int64 {
	total := int64(0)
	for i := range s.steps {
		st := &s.steps[i]
		moves := st.was
		if st.k >= 0 {
			moves = len(s.tracks[st.track].auto.moves[st.k])
		}
		total += int64(st.hi * st.lo * moves)
	}
	return total
}
