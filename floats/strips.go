package floats

// strips raises the bound of one part by whole rows. The part is covered by strips,
// each of two rows above each other as a rule, so that nearly every row lies in two of
// them, and every cost is shared out among the strips that see it. However it is
// shared, the leasts of the strips add up to a lower bound (Lagrangian decomposition;
// Komodakis, Paragios and Tziritas, IEEE Transactions on Pattern Analysis and Machine
// Intelligence 33, 2011, 531-552). Sweeps up and down share it anew: each move of each
// automaton hands on to the next strip that holds its piece what it costs more than
// the best there, its exact min-marginal, so that the bound never falls. What a strip
// cannot see stays as in the ascent: loose couplings keep their shares, and the state
// of a float at a seam is priced like a move, on both sides of the seam.
type strips struct {
	md      *model
	part    []int
	pieces  []*piece
	pieceOf []int32 // by cell
	list    []*strip
	cost    [][]moveCosts // by strip, track
	seams   [][]seamCosts // by strip, track
	chain   [][]seamPlace // by seam: where its state is priced, upward
	least   []int64       // by strip
	where   [][]place     // by piece
	loose   []bool        // by coupling: paid by no strip
	share   []int64       // by coupling, of the loose ones
	rest    int64
	w       jointSweep
	now     int // the strip being visited
	through []int64
}

type place struct{ strip, track int }

type seamPlace struct {
	place
	side int // 0 where a piece starts, 1 where one ends
}

func newStrips(md *model, a *ascent, part []int, most int) *strips {
	s := &strips{md: md, part: part, share: a.share, loose: make([]bool, len(md.couplings)), pieceOf: make([]int32, len(md.own))}
	s.cut(part)
	s.where = make([][]place, len(s.pieces))
	s.build(newCovering(md, s.pieces, most).groups)
	return s
}

// build makes the strips twice: once to count how many bear each cost, then to share
// it out.
func (s *strips) build(groups [][]*piece) {
	pays, paid := make([]int, len(s.loose)), make([]int, len(s.loose))
	in, seen := map[*piece]int{}, map[*piece]int{}
	for _, g := range groups {
		s.md.newStrip(tracks(g), func(k int32) int64 { pays[k]++; return 0 })
		for _, p := range g {
			in[p]++
		}
	}
	for _, g := range groups {
		all := tracks(g)
		for j, p := range g {
			all[j].part = part{seen[p], in[p]}
			seen[p]++
		}
		s.add(s.md.newStrip(all, func(k int32) int64 {
			paid[k]++
			return part{paid[k] - 1, pays[k]}.take(s.md.couplings[k].weight)
		}))
	}
	for k, n := range pays {
		s.loose[k] = n == 0
	}
}

// cut makes the pieces of all choices.
func (s *strips) cut(choices []int) {
	known := automata{}
	for _, i := range choices {
		for _, p := range s.md.pieces(known, i, len(s.chain)) {
			node := s.md.choices[i].node
			for k := p.from; k < p.to; k++ {
				s.pieceOf[node+p.position(k)-1] = int32(len(s.pieces))
			}
			s.pieces = append(s.pieces, p)
			if p.opens() {
				s.chain = append(s.chain, nil)
			}
		}
	}
}

// tracks is pieces borne whole.
func tracks(pieces []*piece) []track {
	var all []track
	for _, p := range pieces {
		all = append(all, track{p, part{0, 1}})
	}
	return all
}

func (s *strips) add(one *strip) {
	for j, t := range one.tracks {
		node := s.md.choices[t.choice].node
		i := s.pieceOf[node+t.position(t.from)-1]
		s.where[i] = append(s.where[i], place{len(s.list), j})
	}
	s.list = append(s.list, one)
}

// start lays the costs out; shares of loose couplings lie in a piece's first strip.
func (s *strips) start() {
	for k, one := range s.list {
		var cost []moveCosts
		var seams []seamCosts
		for j := range one.tracks {
			t := &one.tracks[j]
			c := &s.md.choices[t.choice]
			mine := make([]int64, c.Length)
			for p := range mine {
				mine[p] = t.part.take(s.md.own[c.node+p])
			}
			cost = append(cost, s.md.movesCost(t, mine))
			seams = append(seams, t.seamCosts())
		}
		s.link(k)
		s.cost, s.seams = append(s.cost, cost), append(s.seams, seams)
	}
	for _, i := range s.part {
		c := &s.md.choices[i]
		for cell := c.node; cell < c.node+c.Length; cell++ {
			for _, e := range s.md.endsOf(cell) {
				if s.loose[e.coupling] {
					s.raise(cell, s.share[e.coupling])
					if int(e.cell) > cell {
						s.rest -= s.share[e.coupling]
					}
				}
			}
		}
	}
	s.least = make([]int64, len(s.list))
	s.w.md = s.md
}

// link notes where the seams of a strip are priced.
func (s *strips) link(k int) {
	for side := range 2 {
		for j, t := range s.list[k].tracks {
			if side == 0 && t.opens() || side == 1 && t.closes() {
				at := &s.chain[t.seams[side]]
				*at = append(*at, seamPlace{place{k, j}, side})
			}
		}
	}
}

func (s *strips) measure() {
	for k := range s.list {
		s.load(k)
		s.least[k] = s.w.least()
	}
}

func (s *strips) load(k int) {
	s.now = k
	s.w.load(s.list[k], s.cost[k], s.seams[k])
}

// raise makes a cell cost more where its shares are paid.
func (s *strips) raise(cell int, by int64) {
	at := s.where[s.pieceOf[cell]][0]
	t := &s.list[at.strip].tracks[at.track]
	k := cell - s.md.choices[s.md.owner[cell]].node
	if t.mirror {
		k = t.auto.n - 1 - k
	}
	for j, m := range t.auto.moves[k] {
		if m.caught {
			s.cost[at.strip][at.track][k-t.from][j] += by
		}
	}
}

func (s *strips) bound() int64 {
	s.measure()
	total := s.rest
	for _, l := range s.least {
		total += l
	}
	return total
}

// effort is the steps of one sweep, about.
func (s *strips) effort() int64 {
	total := int64(0)
	for _, one := range s.list {
		total += sweepPasses * one.effort()
	}
	return total
}

// sweepPasses is how often a sweep passes over each step.
const sweepPasses = 5
