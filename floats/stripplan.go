package floats

import "slices"

// Whole rows solved anew. Where neither a float alone nor a few together can better
// a plan, a row may, or a few rows above each other: with all other rows as they are,
// the strip's sweep gives their best sets exactly. A float that crosses a seam keeps
// the state it has there, so that its two pieces still fit.

// rowStrips lists the strips of each so many rows of a part, fewer where there would
// be more than so many joint states.
func (md *model) rowStrips(part []int, height, most int) []*strip {
	known, rows := automata{}, make([][]*piece, len(md.fabric.Rows)+height)
	for _, i := range part {
		for _, p := range md.pieces(known, i, 0) {
			rows[p.row] = append(rows[p.row], p)
		}
	}
	var list []*strip
	for r := range md.fabric.Rows {
		if len(rows[r]) == 0 {
			continue
		}
		for n := height; n > 0; n-- {
			s := md.newStrip(tracks(slices.Concat(rows[r:r+n]...)), md.whole)
			if s.most <= most {
				list = append(list, s)
				break
			}
		}
	}
	return list
}

// restrip solves each strip anew once and tells whether anything got better.
func (r *rounding) restrip(w *jointSweep, list []*strip) bool {
	changed := false
	for _, s := range list {
		changed = r.solveStrip(w, s) || changed
	}
	return changed
}

func (r *rounding) solveStrip(w *jointSweep, s *strip) bool {
	choices, old := r.lift(s)
	was := int64(0)
	cost, seams := make([]moveCosts, len(s.tracks)), make([]seamCosts, len(s.tracks))
	for j := range s.tracks {
		t := &s.tracks[j]
		set := old[slices.Index(choices, t.choice)]
		r.priceAgainst(t.choice, r.taken)
		cost[j] = r.md.movesCost(t, r.cost)
		seams[j] = t.held(set)
	}
	w.load(s, cost, seams)
	for j, way := range w.trace() {
		i := s.tracks[j].choice
		set := append(way.set, r.sets[i]...)
		slices.Sort(set)
		r.put(i, set)
	}
	now := r.costAround(choices)
	fresh := make(assignment, len(choices))
	for k, i := range choices {
		fresh[k] = slices.Clone(r.sets[i])
	}
	for k, i := range choices {
		r.put(i, old[k])
	}
	if was = r.costAround(choices); now >= was {
		return false
	}
	for k, i := range choices {
		r.put(i, fresh[k])
	}
	return true
}

// lift takes the strip's pieces off the plan and tells what its choices had.
func (r *rounding) lift(s *strip) (choices []int, old assignment) {
	for _, t := range s.tracks {
		if !slices.Contains(choices, t.choice) {
			choices = append(choices, t.choice)
			old = append(old, slices.Clone(r.sets[t.choice]))
		}
		kept := slices.DeleteFunc(slices.Clone(r.sets[t.choice]), func(p int32) bool {
			return slices.ContainsFunc(s.tracks, func(o track) bool { return o.choice == t.choice && o.reads(int(p)) })
		})
		r.put(t.choice, kept)
	}
	return choices, old
}

// reads reports whether a position lies in the piece.
func (p *piece) reads(position int) bool {
	k := position - 1
	if p.mirror {
		k = p.auto.n - position
	}
	return p.from <= k && k < p.to
}

// held prices the states at the seams of a piece so that it keeps those it has.
func (t *track) held(set []int32) seamCosts {
	costs := t.seamCosts()
	for side, cut := range []int{t.from, t.to} {
		if costs[side] == nil {
			continue
		}
		for s := range costs[side] {
			costs[side][s] = far / 64
		}
		caught := func(k int) bool { return slices.Contains(set, int32(t.position(k))) }
		costs[side][t.auto.stateOf(caught, len(set), cut)] = 0
	}
	return costs
}

// costAround is what the sets of some choices cost, couplings with others included.
func (r *rounding) costAround(choices []int) int64 {
	total := r.partCost(choices)
	for _, i := range choices {
		node := r.md.choices[i].node
		for _, p := range r.sets[i] {
			cell := node + int(p) - 1
			for _, e := range r.md.endsOf(cell) {
				if int(e.cell) < cell && !slices.Contains(choices, int(r.md.owner[e.cell])) {
					total += r.taken(e)
				}
			}
		}
	}
	return total
}
