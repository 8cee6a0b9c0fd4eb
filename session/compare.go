package session

import (
	"cmp"
)

// compareLists is Compare for a row of which the lists are all that is known: catches
// of one yarn are taken for catches of one strand.
func compareLists(shown, used []Mark, reach int) Changes {
	return compare(shown, used, reach, func(Mark) int { return 0 })
}

func compare(shown, used []Mark, reach int, strand func(Mark) int) Changes {
	var c Changes
	for _, d := range differences(shown, used) {
		c.join(d.missing, d.added, func(m, a differing) bool {
			return m.kept == a.kept && max(m.Stitch-a.Stitch, a.Stitch-m.Stitch) <= reach && strand(m.Mark) == strand(a.Mark)
		})
	}
	return c.InOrder()
}

// differing is a mark of one list only, with the number of kept marks of its yarn
// that come before it.
type differing struct {
	Mark
	kept int
}

func (d differing) compare(o differing) int {
	return cmp.Or(cmp.Compare(d.kept, o.kept), d.Mark.Compare(o.Mark))
}

// difference is what one yarn has in one list only.
type difference struct {
	kept           int
	missing, added []differing
}

// differences walks the two lists side by side and gathers, yarn by yarn, the marks
// that only one of them has.
func differences(shown, used []Mark) map[int]*difference {
	of := map[int]*difference{}
	at := func(m Mark) *difference {
		if of[m.Yarn] == nil {
			of[m.Yarn] = &difference{}
		}
		return of[m.Yarn]
	}
	for len(shown) > 0 || len(used) > 0 {
		switch order := compareHeads(shown, used); {
		case order < 0:
			d := at(shown[0])
			d.missing, shown = append(d.missing, differing{shown[0], d.kept}), shown[1:]
		case order > 0:
			d := at(used[0])
			d.added, used = append(d.added, differing{used[0], d.kept}), used[1:]
		default:
			at(shown[0]).kept++
			shown, used = shown[1:], used[1:]
		}
	}
	return of
}

// compareHeads says which list has the earlier first mark; an empty one comes last.
func compareHeads(shown, used []Mark) int {
	switch {
	case len(used) == 0:
		return -1
	case len(shown) == 0:
		return 1
	}
	return shown[0].Compare(used[0])
}

// join pairs what one yarn misses with what it has added, where the one may have come
// to be the other.
func (c *Changes) join(missing, added []differing, moved func(m, a differing) bool) {
	for len(missing) > 0 && len(added) > 0 {
		m, a := missing[0], added[0]
		switch {
		case moved(m, a):
			c.Moved = append(c.Moved, Move{m.Mark, a.Mark})
			missing, added = missing[1:], added[1:]
		case m.compare(a) < 0:
			c.Missed, missing = append(c.Missed, m.Mark), missing[1:]
		default:
			c.Extra, added = append(c.Extra, a.Mark), added[1:]
		}
	}
	for _, m := range missing {
		c.Missed = append(c.Missed, m.Mark)
	}
	for _, a := range added {
		c.Extra = append(c.Extra, a.Mark)
	}
}
