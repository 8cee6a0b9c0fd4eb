package floats

import "slices"

// unrolling makes a plan from the costs of the strips. After a sweep downward, what
// the rows further up would like is priced in the strip below them; so strip by strip
// upward, with the pieces decided before held to what they are, the rest of the strip
// takes its best.
type unrolling struct {
	s     *strips
	ways  map[*piece]traced
	seams map[int]int32 // states decided
	sets  map[int][]int32
}

// unroll gives a set for each choice of the part. It is for use after a sweep downward.
func (s *strips) unroll() map[int][]int32 {
	u := &unrolling{s: s, ways: map[*piece]traced{}, seams: map[int]int32{}, sets: map[int][]int32{}}
	for k := range s.list {
		u.decide(k)
	}
	for _, set := range u.sets {
		slices.Sort(set)
	}
	return u.sets
}

// decide settles the pieces of a strip. A float that starts and ends at one seam of
// the strip is solved twice: then its end is held to its start.
func (u *unrolling) decide(k int) {
	one := u.s.list[k]
	ways := u.solve(k)
	for j, t := range one.tracks {
		if _, known := u.seams[t.seams[0]]; t.opens() && !known {
			u.seams[t.seams[0]] = ways[j].seams[0]
		}
	}
	ways = u.solve(k)
	for j, t := range one.tracks {
		if _, known := u.ways[t.piece]; known {
			continue
		}
		u.ways[t.piece] = ways[j]
		u.sets[t.choice] = append(u.sets[t.choice], ways[j].set...)
		if t.closes() {
			u.seams[t.seams[1]] = ways[j].seams[1]
		}
	}
}

func (u *unrolling) solve(k int) []traced {
	one := u.s.list[k]
	cost, seams := slices.Clone(u.s.cost[k]), slices.Clone(u.s.seams[k])
	for j := range one.tracks {
		t := &one.tracks[j]
		if way, known := u.ways[t.piece]; known {
			cost[j] = held(cost[j], way.moves)
		}
		for side, at := range [2]bool{t.opens(), t.closes()} {
			if state, known := u.seams[t.seams[side]]; at && known {
				seams[j][side] = heldTo(seams[j][side], int(state))
			}
		}
	}
	u.s.w.load(one, cost, seams)
	return u.s.w.trace()
}

// held lets only the moves given be taken.
func held(cost moveCosts, moves []int) moveCosts {
	out := make(moveCosts, len(cost))
	for k := range cost {
		out[k] = heldTo(cost[k], moves[k])
	}
	return out
}

func heldTo(costs []int64, one int) []int64 {
	out := make([]int64, len(costs))
	for j := range out {
		out[j] = far / 1024
	}
	out[one] = costs[one]
	return out
}
