package follow

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/floats"
	"strandwise/session"
)

// catch is one catch of the row to work: where the sheet has it and where it is
// made.
type catch struct {
	plan session.Mark // zero for an extra one
	at   session.Mark // zero for a missed one
}

func (c catch) extra() bool  { return c.plan == session.Mark{} }
func (c catch) missed() bool { return c.at == session.Mark{} }

// asPlanned reports whether nothing is changed about the catch.
func (c catch) asPlanned() bool { return c.plan == c.at }

// home is the mark by which a catch is known: its planned one, else where it is.
func (c catch) home() session.Mark {
	if c.extra() {
		return c.at
	}
	return c.plan
}

// change is how the catches of a row are made: the catches, and the words by which
// they were told where words are read.
type change struct {
	catches   []catch
	otherwise session.Otherwise
}

// changedTo takes other catches; undo brings the present ones back.
func (s State) changedTo(next []catch) State {
	s.past = append(slices.Clip(s.past), s.change)
	s.change = change{catches: next}
	return s
}

// planned makes the catches of a sheet, all to be made as shown.
func planned(shown []session.Mark) []catch {
	catches := make([]catch, len(shown))
	for i, m := range shown {
		catches[i] = catch{m, m}
	}
	return catches
}

// used lists the catches really made, in knitting order.
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

// told is what became of the catches.
func told(catches []catch) session.Changes {
	var c session.Changes
	for _, one := range catches {
		switch {
		case one.asPlanned():
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

// asTold are the catches of a sheet after changes.
func asTold(shown []session.Mark, changes session.Changes) []catch {
	catches := planned(shown)
	put := func(plan, at session.Mark) {
		i := slices.IndexFunc(catches, func(c catch) bool { return c.plan == plan })
		catches[i].at = at
	}
	for _, m := range changes.Moved {
		put(m.From, m.To)
	}
	for _, m := range changes.Missed {
		put(m, session.Mark{})
	}
	for _, m := range changes.Extra {
		catches = append(catches, catch{at: m})
	}
	return catches
}

// family is the catches that stand on one stitch of the repeat, or in one repeat
// only, in knitting order.
type family struct {
	stitch  int // of the pattern of the row, one repeat of each block, from 1
	yarn    int
	extra   bool
	members []int // into the list of catches
}

// families gathers catches by their place in the repeat, in knitting order; an
// extra catch comes after a planned one on its stitch.
func families(catches []catch, pattern func(stitch int) int) []family {
	var all []family
	for i, c := range catches {
		f := family{stitch: pattern(c.home().Stitch) + 1, yarn: c.home().Yarn, extra: c.extra()}
		at := slices.IndexFunc(all, func(g family) bool {
			return g.stitch == f.stitch && g.yarn == f.yarn && g.extra == f.extra
		})
		if at < 0 {
			at = len(all)
			all = append(all, f)
		}
		all[at].members = append(all[at].members, i)
	}
	slices.SortStableFunc(all, func(a, b family) int {
		if order := (session.Mark{Stitch: a.stitch, Yarn: a.yarn}).Compare(session.Mark{Stitch: b.stitch, Yarn: b.yarn}); order != 0 {
			return order
		}
		return strings.Compare(fmt.Sprint(a.extra), fmt.Sprint(b.extra))
	})
	return all
}

// inRow is what words about catches need to know of their row.
type inRow struct {
	sheet *session.Sheet
}

// repeat is the repeat a stitch of the row is in, from 1.
func (r inRow) repeat(stitch int) int { return r.place(stitch).Repeat }

// place is where a stitch of the row is.
func (r inRow) place(stitch int) floats.Place { return r.sheet.PlaceOf(stitch) }

// name is a catch as it is planned: "catch a (oat, stitch 9)", and an extra one "extra catch of
// oat on stitch 9".
func (r inRow) name(f family) string {
	yarn, at := r.sheet.Yarns[f.yarn].Name, r.sheet.PatternPlace(f.stitch-1)
	stitch := session.StitchName(at)
	for _, l := range r.sheet.Letters {
		if !f.extra && l.Block == at.Block && l.Stitch == at.Stitch && l.Yarn == f.yarn {
			return fmt.Sprintf("catch %s (%s, %s)", l.Letter, yarn, stitch)
		}
	}
	return fmt.Sprintf("extra catch of %s on %s", yarn, stitch)
}

// letter is that of a catch that was planned.
func (r inRow) letter(c catch) string {
	at := r.place(c.plan.Stitch)
	for _, l := range r.sheet.Letters {
		if l.Block == at.Block && l.Stitch == at.Stitch && l.Yarn == c.plan.Yarn {
			return l.Letter
		}
	}
	return ""
}

// fate tells what became of a catch: "1 stitch later", "missed"; empty when it is as planned,
// and of an extra one, which its name tells.
func (r inRow) fate(c catch) string {
	switch by := c.at.Stitch - c.plan.Stitch; {
	case c.asPlanned() || c.extra():
		return ""
	case c.missed():
		return "missed"
	case by > 0:
		return stitches(by) + " later"
	default:
		return stitches(-by) + " earlier"
	}
}

// fates lists what became of the catches of a family, those alike together, with
// the repeats they are in where that is not all of them.
func (r inRow) fates(f family, catches []catch) []string {
	var order []string
	repeats := map[string][]int{}
	for _, i := range f.members {
		fate := r.fate(catches[i])
		if fate == "" {
			continue
		}
		if repeats[fate] == nil {
			order = append(order, fate)
		}
		repeats[fate] = append(repeats[fate], r.repeat(catches[i].home().Stitch))
	}
	words := make([]string, len(order))
	for i, fate := range order {
		words[i] = fate + r.where(f, repeats[fate])
	}
	return words
}

// repeats is how many repeats the block of a catch has.
func (r inRow) repeats(f family) int {
	return r.sheet.Block(r.sheet.PatternPlace(f.stitch - 1).Block).Repeats
}

// where names repeats of the block of a catch: "", " in every repeat" or " in repeats 3, 4".
func (r inRow) where(f family, repeats []int) string {
	switch all := r.repeats(f); {
	case all == 1:
		return ""
	case len(repeats) == all:
		return " in every repeat"
	case len(repeats) == 1:
		return fmt.Sprintf(" in repeat %d", repeats[0])
	}
	return " in repeats " + session.Listed(session.Ranges(repeats), "and")
}

// changed tells everything about the row to work that is not as planned.
func (s State) changed() []string {
	if len(s.work().catches) == 0 || s.ended() {
		return nil
	}
	return s.piece.FatesOf(s.toWork(), told(s.work().catches))
}

// work is how the catches of the row to work are made, also while another row is corrected.
func (s State) work() change {
	if s.aside != nil {
		return s.aside.change
	}
	return s.change
}
