package follow

import (
	"cmp"
	"slices"

	"strandwise/session"
)

// run is one run of the row to work in one of its repeats.
type run struct {
	block    *session.RowBlock
	repeat   int // from 1
	number   int // in the repeat, from 1
	of       int // runs of the repeat
	from     int // the first stitch over the whole row, from 1
	stitches int
	yarn     int
	told     session.Run // with its catches as they are made in this very repeat
}

// steps is how many runs the row to work has over all repeats.
func (s State) steps() int {
	if s.ended() {
		return 0
	}
	sheet := s.workSheet()
	n := 0
	for i := range sheet.Blocks {
		n += len(sheet.Blocks[i].Often.Runs) * sheet.Blocks[i].Repeats
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

// runAt gives a run of the row to work, from 0 over all repeats.
func (s State) runAt(sheet *session.Sheet, step int) run {
	b := &sheet.Blocks[0]
	for i := 1; step >= len(b.Often.Runs)*b.Repeats; i++ {
		step -= len(b.Often.Runs) * b.Repeats
		b = &sheet.Blocks[i]
	}
	n := len(b.Often.Runs)
	r := run{block: b, repeat: step/n + 1, number: step%n + 1, of: n}
	r.told = b.Often.Runs[r.number-1]
	r.from = sheet.Begins(b, r.repeat) + r.told.From - 1
	r.stitches, r.yarn, r.told.Catches = r.told.Stitches, r.told.Yarn, nil
	for _, c := range s.work().catches {
		in := inRow{sheet}
		if c.missed() || c.at.Stitch < r.from || c.at.Stitch >= r.from+r.stitches {
			continue
		}
		at := session.Catch{Stitch: in.place(c.at.Stitch).Stitch, Yarn: c.at.Yarn, Twist: sheet.Twists(c.at.Stitch)}
		if !c.extra() {
			at.Letter = in.letter(c)
		}
		r.told.Catches = append(r.told.Catches, at)
	}
	slices.SortFunc(r.told.Catches, func(a, b session.Catch) int { return cmp.Or(a.Stitch-b.Stitch, a.Yarn-b.Yarn) })
	return r
}

// stepAt is the run in which the next stitch lies when so many are worked.
func (s State) stepAt(worked int) int {
	sheet := s.workSheet()
	at := sheet.PlaceOf(min(worked, sheet.Total-1) + 1)
	before := 0
	for i := range sheet.Blocks {
		b := &sheet.Blocks[i]
		runs := b.Often.Runs
		if b.Number != at.Block {
			before += len(runs) * b.Repeats
			continue
		}
		step := len(runs) - 1
		for runs[step].From > at.Stitch {
			step--
		}
		return before + (at.Repeat-1)*len(runs) + step
	}
	return before
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
