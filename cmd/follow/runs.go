package follow

import (
	"slices"

	"strandwise/session"
)

// stretch is what one press goes on by: a run in one of the repeats, or by repeat the whole of one.
type stretch struct {
	block    *session.RowBlock
	repeat   int // from 1
	number   int // in the repeat, from 1
	of       int // stretches of the repeat
	from     int // the first stitch over the whole row, from 1
	stitches int
}

// stretches are those of the row to work, in knitting order. A block of empty cells has none.
func (s State) stretches() []stretch {
	if s.ended() {
		return nil
	}
	sheet := s.sheet
	if s.row != s.toWork() {
		sheet = s.piece.Sheet(s.toWork())
	}
	var all []stretch
	for i := range sheet.Blocks {
		b := &sheet.Blocks[i]
		for repeat := 1; repeat <= b.Repeats; repeat++ {
			begins := sheet.Begins(b, repeat)
			switch {
			case s.o.By == ByRun:
				for n, told := range b.Often.Runs {
					all = append(all, stretch{b, repeat, n + 1, len(b.Often.Runs), begins + told.From - 1, told.Stitches})
				}
			case len(b.Order) > 0:
				all = append(all, stretch{b, repeat, 1, 1, begins, len(b.Order)})
			}
		}
	}
	return all
}

// made tells the runs of the repeat of a stretch with their catches as they are made in it.
func (s State) made(at stretch) []session.Run {
	runs := slices.Clone(at.block.Often.Runs)
	for i := range runs {
		runs[i].Catches = nil
		first := s.sheet.Begins(at.block, at.repeat) + runs[i].From - 1
		for _, c := range s.work().catches {
			if c.missed() || c.at.Stitch < first || c.at.Stitch >= first+runs[i].Stitches {
				continue
			}
			made := s.sheet.Catch(c.at)
			made.Letter = s.letterOf(c)
			runs[i].Catches = append(runs[i].Catches, made)
		}
		slices.SortFunc(runs[i].Catches, session.Catch.Compare)
	}
	return runs
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
	at := s.stretches()[s.step]
	if begun >= at.from && begun < at.from+at.stitches-1 {
		return begun
	}
	return at.from - 1
}
