package session

import (
	"fmt"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// Changes is how the catches made in a row differ from those shown. Each list is in knitting order.
type Changes struct {
	Moved  []Move // in the order of From
	Missed []Mark // shown, not made, and none made in their stead
	Extra  []Mark // made, not shown, and in no other's stead
}

// Move is a catch made on another stitch than shown.
type Move struct{ From, To Mark }

// words tells how far the catch went: "2 stitches later".
func (m Move) words() string {
	if by := m.To.Stitch - m.From.Stitch; by >= 0 {
		return plural(by, "stitch") + " later"
	}
	return plural(m.From.Stitch-m.To.Stitch, "stitch") + " earlier"
}

// Any reports whether anything differs.
func (c Changes) Any() bool { return len(c.Moved)+len(c.Missed)+len(c.Extra) > 0 }

// InOrder is the same with each list in its order.
func (c Changes) InOrder() Changes {
	return Changes{
		slices.SortedFunc(slices.Values(c.Moved), func(a, b Move) int { return a.From.Compare(b.From) }),
		slices.SortedFunc(slices.Values(c.Missed), Mark.Compare), slices.SortedFunc(slices.Values(c.Extra), Mark.Compare),
	}
}

// gone lists the marks shown that were not made, in order.
func (c *Changes) gone() []Mark {
	return withEnds(c.Missed, c.Moved, func(m Move) Mark { return m.From })
}

// come lists the marks made that were not shown, in order.
func (c *Changes) come() []Mark { return withEnds(c.Extra, c.Moved, func(m Move) Mark { return m.To }) }

func withEnds(marks []Mark, moved []Move, end func(Move) Mark) []Mark {
	marks = slices.Clone(marks)
	for _, m := range moved {
		marks = append(marks, end(m))
	}
	slices.SortFunc(marks, Mark.Compare)
	return marks
}

// applied gives the marks made, in order, of those shown.
func (c *Changes) applied(shown []Mark) []Mark {
	made := append(without(shown, c.gone(), Mark.Compare), c.come()...)
	slices.SortFunc(made, Mark.Compare)
	return made
}

// fits reports whether the changes can be of these marks: what is gone was shown, none is made twice.
func (c *Changes) fits(shown []Mark) bool {
	gone := c.gone()
	for i, m := range gone {
		if _, is := slices.BinarySearchFunc(shown, m, Mark.Compare); !is || i > 0 && m == gone[i-1] {
			return false
		}
	}
	return checkMarks("", c.applied(shown)) == nil
}

// fields are the moves as the list of where they were shown and, in that order, where they were
// made; then the other two lists.
func (c *Changes) fields(w *wire) {
	from := make([]Mark, len(c.Moved))
	for i, m := range c.Moved {
		from[i] = m.From
	}
	w.marks(&from)
	for i, mark := range from {
		if !w.writing {
			c.Moved = append(c.Moved, Move{From: mark})
		}
		to := &c.Moved[i].To
		w.int(&to.Stitch)
		if w.int(&to.Yarn); *to == mark {
			w.fail("a catch was moved to where it was")
		}
	}
	w.marks(&c.Missed)
	w.marks(&c.Extra)
}

// compareLists is Compare where only the lists are known: catches of one yarn are taken for one strand.
func compareLists(shown, used []Mark, reach int) Changes {
	return changesFrom(shown, used, reach, func(Mark) int { return 0 })
}

// changesFrom joins each missing mark with the first new one that it may have come to be.
func changesFrom(shown, used []Mark, reach int, strand func(Mark) int) Changes {
	missed, added := without(shown, used, Mark.Compare), without(used, shown, Mark.Compare)
	stayed := without(shown, missed, Mark.Compare)
	between := func(a, b int, yarn int) bool {
		return slices.ContainsFunc(stayed, func(m Mark) bool { return m.Yarn == yarn && min(a, b) < m.Stitch && m.Stitch < max(a, b) })
	}
	var c Changes
	for _, m := range missed {
		at := slices.IndexFunc(added, func(a Mark) bool {
			return a.Yarn == m.Yarn && max(m.Stitch-a.Stitch, a.Stitch-m.Stitch) <= reach && !between(m.Stitch, a.Stitch, m.Yarn) && strand(m) == strand(a)
		})
		if at < 0 {
			c.Missed = append(c.Missed, m)
			continue
		}
		c.Moved = append(c.Moved, Move{m, added[at]})
		added = slices.Delete(added, at, at+1)
	}
	c.Extra = append(c.Extra, added...)
	return c.InOrder()
}

// PlacedCatch is a catch by its place in the row.
type PlacedCatch struct {
	floats.Place
	Yarn  chart.Yarn `json:"yarn"` // symbol
	inRow int        // over the whole row
}

// LoggedCatch is one catch of a row, in knitting order. Its letter is that with which it was
// shown; an extra one has none.
type LoggedCatch struct {
	Letter string `json:"letter"`
	PlacedCatch
}

// name is "catch a", of an extra one "the extra catch on stitch 4".
func (c LoggedCatch) name() string {
	if c.Letter != "" {
		return "catch " + c.Letter
	}
	return fmt.Sprintf("the extra catch on stitch %d", c.Stitch)
}
