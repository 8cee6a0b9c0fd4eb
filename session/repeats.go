package session

import "slices"

// byRepeat splits the catches of a row into its repeats, stitches counted within the
// repeat, and finds the list that most repeats share; of two shared equally the
// earliest met. Repeats at the ends of a row may differ: floats that run on from
// repeat to repeat, or over the start.
func byRepeat(marks []Mark, width, repeats int) (common []Mark, all [][]Mark) {
	all = make([][]Mark, repeats)
	for _, m := range marks {
		rep := (m.Stitch - 1) / width
		m.Stitch -= rep * width
		all[rep] = append(all[rep], m)
	}
	most := 0
	for i, marks := range all {
		alike := 0
		for _, other := range all[i:] {
			if slices.Equal(marks, other) {
				alike++
			}
		}
		if alike > most {
			common, most = marks, alike
		}
	}
	return common, all
}

// fillCatches sorts the catches shown into those of most repeats and those that
// differ, and marks what the plan has elsewhere where that is wanted.
func (s *Sheet) fillCatches(shown, planned []Mark, tellMoved bool) {
	width := len(s.Order)
	moved := func(rep int, m Mark) bool {
		m.Stitch += rep * width
		return tellMoved && !slices.Contains(planned, m)
	}
	common, all := byRepeat(shown, width, s.Repeats)
	at := slices.IndexFunc(all, func(marks []Mark) bool { return slices.Equal(marks, common) })
	for _, m := range common {
		s.Catches = append(s.Catches, SheetCatch{Stitch: m.Stitch, Yarn: m.Yarn, Moved: moved(at, m)})
	}
	for rep, marks := range all {
		if slices.Equal(marks, common) {
			continue
		}
		d := OtherRepeat{Repeat: rep + 1}
		for _, m := range missing(marks, common) {
			d.Without = append(d.Without, s.place(m, false))
		}
		for _, m := range missing(common, marks) {
			d.Also = append(d.Also, s.place(m, moved(rep, m)))
		}
		s.OtherRepeats = append(s.OtherRepeats, d)
	}
}

// missing lists the marks of want that are not among have.
func missing(have, want []Mark) []Mark {
	var out []Mark
	for _, m := range want {
		if !slices.Contains(have, m) {
			out = append(out, m)
		}
	}
	return out
}

// place finds the stitch of a mark in its run.
func (s *Sheet) place(m Mark, moved bool) SheetCatch {
	at := m.Stitch - 1
	from := at
	for from > 0 && s.Order[from-1].Yarn == s.Order[at].Yarn {
		from--
	}
	return SheetCatch{Stitch: m.Stitch, InRun: at - from + 1, Yarn: m.Yarn, Moved: moved}
}
