package session

import (
	"cmp"
	"fmt"
	"math/bits"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// Mark is one catch of a row.
type Mark struct {
	Stitch int // the stitch it is on (weave) or just before (twist), in knitting order over the whole row, from 1
	Yarn   int // the yarn caught: index into the yarns of the fabric laid from the parts in force at the row
}

// Compare orders marks by stitch, then by yarn: the order a row keeps them in.
func (m Mark) Compare(o Mark) int {
	return cmp.Or(cmp.Compare(m.Stitch, o.Stitch), cmp.Compare(m.Yarn, o.Yarn))
}

// PlacedCatch is a catch by its place in the row.
type PlacedCatch struct {
	floats.Place
	Yarn   chart.Yarn `json:"yarn"` // symbol
	stitch int        // over the whole row
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

// Logged tells catches made or shown in a row, from 1, by their letters and places.
func (p *Piece) Logged(row int, marks []Mark) []LoggedCatch {
	return mapped(marks, p.rowShown(row).logged)
}

func (r *shownRow) logged(m Mark) LoggedCatch {
	return LoggedCatch{r.letterOf(m), r.piece.catchAt(r.number, m)}
}

func (p *Piece) catchAt(row int, m Mark) PlacedCatch {
	return PlacedCatch{p.PlaceOf(row, m.Stitch), p.Layout.Fabric.Yarns[m.Yarn], m.Stitch}
}

// A list of marks is written as its count, then (unless it is empty) the number of
// low bits a yarn needs, then for each mark the step from the mark before, a mark
// counting as stitch<<bits + yarn. Marks are in order, so every step is at least
// 1, and with two yarns a step of up to 63 stitches takes one byte.

const (
	maxYarnBits = 12 // that a yarn index of a mark may take
	maxKey      = maxInt<<maxYarnBits | 1<<maxYarnBits - 1
)

func yarnBits(marks []Mark) int {
	all := 0
	for _, m := range marks {
		all |= m.Yarn
	}
	return bits.Len(uint(all))
}

// marks takes a list of marks. What it accepts passes checkMarks.
func (w *wire) marks(marks *[]Mark) {
	n := w.count(len(*marks), 1)
	if n == 0 {
		return
	}
	width := yarnBits(*marks)
	number(w, &width, maxYarnBits, "a yarn number is too large")
	if !w.writing {
		*marks = make([]Mark, n)
	}
	key := uint64(0)
	for i := range *marks {
		m := &(*marks)[i]
		step := (uint64(m.Stitch)<<width | uint64(m.Yarn)) - key
		if w.uint(&step); w.writing {
			key += step
			continue
		}
		if step == 0 || step > maxKey {
			w.fail("catches are out of order")
			return
		}
		key += step
		m.Stitch, m.Yarn = int(key>>width), int(key&(1<<width-1))
		if m.Stitch < 1 || m.Stitch > maxInt {
			w.fail("a catch is on no stitch or of no yarn")
			return
		}
	}
	if yarnBits(*marks) != width {
		w.fail("a catch is on no stitch or of no yarn")
	}
}

// lastStitch is the highest stitch with a mark, 0 without one.
func lastStitch(lists ...[]Mark) (last int) {
	for _, m := range slices.Concat(lists...) {
		last = max(last, m.Stitch)
	}
	return last
}

func checkMarks(field string, marks []Mark) error {
	last := Mark{}
	for _, m := range marks {
		if m.Stitch < 1 || m.Stitch > maxInt || m.Yarn < 0 || m.Yarn >= 1<<maxYarnBits {
			return &FieldError{field, fmt.Sprintf("stitch %d, yarn number %d", m.Stitch, m.Yarn), "stitches from 1 and yarns of the piece"}
		}
		if m.Compare(last) <= 0 {
			return &FieldError{field, fmt.Sprintf("stitch %d after stitch %d", m.Stitch, last.Stitch), "each catch once, in knitting order"}
		}
		last = m
	}
	return nil
}

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

// Changes tells what became of the catches of a finished row, from 1: as told, or as Compare finds.
func (p *Piece) Changes(row int) Changes {
	done := p.State.DoneRow(row)
	if done.Changes != nil {
		return *done.Changes
	}
	return p.Compare(row, done.Shown, done.Used)
}

// Missed lists the finished rows with a catch that was missed.
func (p *Piece) Missed() []int {
	var rows []int
	for _, done := range p.State.DoneRows {
		if len(p.Changes(done.Row).Missed) > 0 {
			rows = append(rows, done.Row)
		}
	}
	return rows
}

// Compare finds out what became of the catches shown in a row, from 1. A missing catch was moved when a new
// one holds the same strand at most reach stitches away and no catch of that yarn was kept between the two,
// the earliest first. Reach is the limit of the row: a catch that went farther does another catch's work.
// Both lists must be in order. The time is n log n in their length, linear in the stitches of the row, and
// quadratic in the catches that differ.
func (p *Piece) Compare(row int, shown, used []Mark) Changes {
	if slices.Equal(shown, used) {
		return Changes{}
	}
	all := p.passages(row)
	return changesFrom(shown, used, p.State.SegmentAt(row).Limit, func(m Mark) int { return all.under(m.Yarn, m.Stitch) })
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

func without[T any](all, others []T, compare func(a, b T) int) []T {
	others = slices.SortedFunc(slices.Values(others), compare)
	var left []T
	for _, one := range slices.SortedFunc(slices.Values(all), compare) {
		if _, found := slices.BinarySearchFunc(others, one, compare); !found {
			left = append(left, one)
		}
	}
	return left
}
