package floats

// Pieces in which the proof on labels leaves a gap worth closing (three yarns in a
// row, small limits, long floats: too many sets to list) are taken row by row: first
// in strips of few joint states, and as long as that is not enough in larger ones,
// within an effort counted in steps.

const (
	rowsGap     = 105 // worth it from one part in so many of the score on
	rowsSweeps  = 8
	rowsSlow    = 4000          // a sweep that raises the bound by less than one part in so many is the last
	rowsRounds  = 6             // of bettering a plan
	lowJoint    = 1 << 14       // joint states of the strips of two rows a plan is bettered by
	highJoint   = 1 << 15       // and of those of three
	rowsShare   = 200           // steps of one sweep for each step of the effort on labels
	rowsMaximum = 2_500_000_000 // steps of one sweep, whatever the piece
)

// rowsJoint is how many joint states the strips may have that the bound is raised by.
var rowsJoint = [...]int{1 << 13, 1 << 17, 1 << 22}

// byRows betters the plan of the part and raises its bound by whole rows.
func (w *work) byRows() error {
	if !w.gapOver(rowsGap) {
		return nil
	}
	w.restrip()
	levels := w.levels()
	for i, s := range levels {
		if !w.gapOver(rowsGap) {
			break
		}
		s.start()
		if err := w.raise(s, i == len(levels)-1); err != nil {
			return err
		}
	}
	return nil
}

// levels are the strips that the effort allows, the smaller ones first.
func (w *work) levels() []*strips {
	var all []*strips
	for _, most := range rowsJoint {
		s := newStrips(w.s.md, w.s.ascent, w.part, most)
		if s.effort() > min(rowsShare*w.steady, rowsMaximum) {
			break
		}
		all = append(all, s)
	}
	return all
}

// raise sweeps over the strips as long as that is of use: until the gap is small
// enough, or the bound hardly rises. As a rule a sweep raises it by less than half of
// what the one before did: with larger strips to come, these are left when even as much
// again would not do.
func (w *work) raise(s *strips, last bool) error {
	before := int64(0)
	for i := range rowsSweeps {
		if err := w.s.ctx.Err(); err != nil {
			return err
		}
		s.sweep(i%2 == 0)
		now := s.bound()
		w.proof.bound = max(w.proof.bound, now)
		if !w.gapOver(rowsGap) {
			break
		}
		gained := now - before
		before = now
		if i%2 == 0 {
			continue
		}
		if !last && w.gapFrom(now+gained, rowsGap) {
			break
		}
		w.unroll(s)
		if !w.gapOver(rowsGap) || gained*rowsSlow < now {
			break
		}
	}
	return nil
}

// gapOver reports whether the gap is over one part in so many of the score.
func (w *work) gapOver(part int64) bool {
	return !w.proof.proven() && w.gapFrom(w.proof.bound, part)
}

func (w *work) gapFrom(bound, part int64) bool { return (w.proof.best-bound)*part > w.proof.best }

// unroll makes a plan from the strips and betters it.
func (w *work) unroll(s *strips) {
	sets := s.unroll()
	for _, i := range w.part {
		w.s.round.put(i, sets[i])
	}
	w.settleRows()
}

// restrip betters the plan in hand, and those the prices give upward and downward.
func (w *work) restrip() {
	w.s.round.loadPart(w.part, w.s.sets)
	w.settleRows()
	for _, upward := range []bool{true, false} {
		w.s.round.settlePart(w.s.ascent, w.part, upward)
		w.settleRows()
	}
}

// settleRows betters a plan by whole rows and by groups of floats until nothing
// changes, and keeps it if it scores less.
func (w *work) settleRows() {
	if w.low == nil {
		w.low = w.s.md.rowStrips(w.part, 2, lowJoint)
		w.high = w.s.md.rowStrips(w.part, 3, highJoint)
	}
	r, sweep := w.s.round, &jointSweep{md: w.s.md}
	for round := range rowsRounds {
		changed := r.restrip(sweep, w.low)
		if !changed && round > 0 {
			changed = r.restrip(sweep, w.high)
		}
		r.improve(w.part, roundPasses)
		if !r.regroup(w.part) && !changed && round > 0 {
			break
		}
	}
	w.keep()
}
