package follow

import "strandwise/session"

// run is one run of the row to work in one of its repeats.
type run struct {
	repeat   int // from 1
	number   int // in the repeat, from 1
	of       int // runs of the repeat
	from     int // the first stitch over the whole row, from 1
	stitches int
	yarn     int
	catches  []session.SheetCatch // as planned for this very repeat
}

// steps is how many runs the row to work has over all repeats.
func (s State) steps() int {
	if s.ended() {
		return 0
	}
	sheet := s.workSheet()
	return len(sheet.Runs) * sheet.Repeats
}

// workSheet is the sheet of the row to work.
func (s State) workSheet() *session.Sheet {
	if s.sheet != nil && s.row == s.toWork() {
		return s.sheet
	}
	return s.piece.Sheet(s.toWork())
}

// runAt gives a run of the row to work, from 0 over all repeats.
func (s State) runAt(sheet *session.Sheet, step int) run {
	n := len(sheet.Runs)
	r := run{repeat: step/n + 1, number: step%n + 1, of: n, from: step/n*len(sheet.Order) + 1}
	for _, before := range sheet.Runs[:r.number-1] {
		r.from += before.Stitches
	}
	r.stitches, r.yarn = sheet.Runs[r.number-1].Stitches, sheet.Runs[r.number-1].Yarn
	for _, m := range used(s.catches) {
		if in := m.Stitch - r.from + 1; in >= 1 && in <= r.stitches {
			r.catches = append(r.catches, session.SheetCatch{Stitch: (m.Stitch-1)%len(sheet.Order) + 1, InRun: in, Yarn: m.Yarn})
		}
	}
	return r
}

// stepAt is the run in which the next stitch lies when so many are worked.
func (s State) stepAt(worked int) int {
	r := s.piece.Row(s.toWork())
	order := r.InOrder()
	worked = min(worked, r.Stitches()-1)
	runs, step := 0, 0
	for i := range order {
		if i == 0 || order[i].Yarn != order[i-1].Yarn {
			runs++
		}
		if i == worked%len(order) {
			step = runs - 1
		}
	}
	return worked/len(order)*runs + step
}

// place is how many stitches of the row to work are worked, as far as is known: what was
// answered, by run those before the run on the screen, unless the place kept lies within it.
func (s State) place() int {
	begun := s.piece.State.Begun
	if s.far != nil {
		return *s.far
	}
	if s.o.By != ByRun || s.ended() {
		return begun
	}
	r := s.runAt(s.workSheet(), s.step)
	if begun >= r.from && begun < r.from+r.stitches-1 {
		return begun
	}
	return r.from - 1
}
