package follow

import (
	"cmp"
	"slices"

	"strandwise/session"
)

// stretch is what one press goes on by: a run of the row to work in one of its repeats, or
// by repeat the whole of one.
type stretch struct {
	block    *session.RowBlock
	repeat   int // from 1
	number   int // in the repeat, from 1
	of       int // stretches of the repeat
	from     int // the first stitch over the whole row, from 1
	stitches int
}

// run is a stretch that is one run, told with its catches as they are made in this very repeat.
type run struct {
	stretch
	told session.Run
}

// presses is how many stretches a repeat of a block has. A block of empty cells has none.
func (s State) presses(b *session.RowBlock) int {
	if s.o.By == ByRun {
		return len(b.Often.Runs)
	}
	return min(1, len(b.Order))
}

// steps is how many stretches the row to work has over all repeats.
func (s State) steps() int {
	if s.ended() {
		return 0
	}
	sheet := s.workSheet()
	n := 0
	for i := range sheet.Blocks {
		n += s.presses(&sheet.Blocks[i]) * sheet.Blocks[i].Repeats
	}
	return n
}

// workSheet is the sheet of the row to work.
func (s State) workSheet() *session.Sheet {
	if s.sheet != nil && s.row == s.toWork() {
		return s.sheet
	}
	return s.piece.Sheet(s.toWork())
}

// stretchAt gives a stretch of the row to work, from 0 over all repeats.
func (s State) stretchAt(sheet *session.Sheet, step int) stretch {
	b := &sheet.Blocks[0]
	for i := 1; step >= s.presses(b)*b.Repeats; i++ {
		step -= s.presses(b) * b.Repeats
		b = &sheet.Blocks[i]
	}
	n := s.presses(b)
	at := stretch{block: b, repeat: step/n + 1, number: step%n + 1, of: n}
	at.from, at.stitches = sheet.Begins(b, at.repeat), len(b.Order)
	if s.o.By == ByRun {
		told := b.Often.Runs[at.number-1]
		at.from, at.stitches = at.from+told.From-1, told.Stitches
	}
	return at
}

// runAt gives a run of the row to work by its step, by run.
func (s State) runAt(step int) run {
	at := s.stretchAt(s.sheet, step)
	return run{at, s.madeRuns(at.block, at.repeat)[at.number-1]}
}

// madeRuns tells the runs of a repeat of the row to work with their catches as they are made
// in it.
func (s State) madeRuns(b *session.RowBlock, repeat int) []session.Run {
	runs := slices.Clone(b.Often.Runs)
	for i := range runs {
		runs[i].Catches = nil
		first := s.sheet.Begins(b, repeat) + runs[i].From - 1
		for _, c := range s.work().catches {
			if c.missed() || c.at.Stitch < first || c.at.Stitch >= first+runs[i].Stitches {
				continue
			}
			at := session.Catch{Letter: s.letterOf(c), Stitch: s.sheet.PlaceOf(c.at.Stitch).Stitch, Yarn: c.at.Yarn, Twist: s.sheet.Twists(c.at.Stitch)}
			runs[i].Catches = append(runs[i].Catches, at)
		}
		slices.SortFunc(runs[i].Catches, func(a, b session.Catch) int { return cmp.Or(a.Stitch-b.Stitch, a.Yarn-b.Yarn) })
	}
	return runs
}

// stepAt is the stretch in which the next stitch lies when so many are worked.
func (s State) stepAt(worked int) int {
	sheet := s.workSheet()
	next := min(worked, sheet.Total-1) + 1
	step := max(0, s.steps()-1)
	for step > 0 && s.stretchAt(sheet, step).from > next {
		step--
	}
	return step
}

// place is how many stitches of the row to work are worked, as far as is known: what was
// answered, else those before the stretch on the screen, unless the place kept lies within it.
func (s State) place() int {
	begun := s.piece.State.Begun
	if s.far != nil {
		return *s.far
	}
	if s.o.By == ByRow || s.ended() {
		return begun
	}
	at := s.stretchAt(s.workSheet(), s.step)
	if begun >= at.from && begun < at.from+at.stitches-1 {
		return begun
	}
	return at.from - 1
}
