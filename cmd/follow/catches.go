package follow

import (
	"cmp"
	"slices"

	"strandwise/session"
)

type catch struct {
	plan session.Mark // zero for an extra one
	at   session.Mark // zero for a missed one
}

func (c catch) extra() bool  { return c.plan == session.Mark{} }
func (c catch) missed() bool { return c.at == session.Mark{} }

// home is the mark by which a catch is known: its planned one, else where it is.
func (c catch) home() session.Mark {
	if c.extra() {
		return c.at
	}
	return c.plan
}

type making struct {
	catches []catch
	past    [][]catch // what held before each change, the latest last
}

// changedTo takes other catches; undo brings the present ones back.
func (s State) changedTo(next []catch) State {
	s.making = making{next, append(slices.Clip(s.past), s.catches)}
	return s
}

func used(catches []catch) []session.Mark {
	var marks []session.Mark
	for _, c := range catches {
		if !c.missed() {
			marks = append(marks, c.at)
		}
	}
	slices.SortFunc(marks, session.Mark.Compare)
	return marks
}

func told(catches []catch) session.Changes {
	var c session.Changes
	for _, one := range catches {
		switch {
		case one.plan == one.at:
		case one.missed():
			c.Missed = append(c.Missed, one.plan)
		case one.extra():
			c.Extra = append(c.Extra, one.at)
		default:
			c.Moved = append(c.Moved, session.Move{From: one.plan, To: one.at})
		}
	}
	return c
}

func asTold(shown []session.Mark, changes session.Changes) []catch {
	at := map[session.Mark]session.Mark{}
	for _, m := range shown {
		at[m] = m
	}
	for _, m := range changes.Moved {
		at[m.From] = m.To
	}
	for _, m := range changes.Missed {
		at[m] = session.Mark{}
	}
	var catches []catch
	for _, m := range shown {
		catches = append(catches, catch{m, at[m]})
	}
	for _, m := range changes.Extra {
		catches = append(catches, catch{at: m})
	}
	return catches
}

// family is the catches on one stitch of the repeat, in knitting order.
type family struct {
	stitch  int // of the pattern of the row, one repeat of each block, from 1
	yarn    int
	extra   bool
	block   *session.RowBlock
	members []int // into the list of catches
	repeats []int // those of the members
}

func (f family) is(g family) bool {
	return f.stitch == g.stitch && f.yarn == g.yarn && f.extra == g.extra
}

// families are in knitting order; an extra catch comes after a planned one on its stitch.
func (s State) families() []family {
	var all []family
	for i, c := range s.catches {
		f := family{stitch: s.sheet.InPattern(c.home().Stitch) + 1, yarn: c.home().Yarn, extra: c.extra()}
		at := slices.IndexFunc(all, f.is)
		if at < 0 {
			f.block = s.sheet.Block(s.sheet.PatternPlace(f.stitch - 1).Block)
			at, all = len(all), append(all, f)
		}
		all[at].members, all[at].repeats = append(all[at].members, i), append(all[at].repeats, s.repeatOf(c))
	}
	slices.SortStableFunc(all, func(a, b family) int {
		order := session.Mark{Stitch: a.stitch, Yarn: a.yarn}.Compare(session.Mark{Stitch: b.stitch, Yarn: b.yarn})
		if a.extra && !b.extra {
			return cmp.Or(order, 1)
		}
		return order
	})
	return all
}

func (s State) repeatOf(c catch) int { return s.sheet.PlaceOf(c.home().Stitch).Repeat }

// letterOf is the letter of a catch that was planned; empty for an extra one.
func (s State) letterOf(c catch) string {
	if c.extra() {
		return ""
	}
	return s.sheet.ShownAs(c.plan)
}

func (s State) changed() []string {
	if s.ended() {
		return nil
	}
	return s.piece.Fates(s.toWork(), told(s.work().catches))
}

// work is how the catches of the row to work are made, also while another row is corrected.
func (s State) work() making {
	if s.aside != nil {
		return *s.aside
	}
	return s.making
}
