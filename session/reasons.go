package session

import (
	"cmp"
	"fmt"
	"slices"

	"strandwise/floats"
)

// reasons tells why the catches of a row to come are not where the plan has them: "catch a is 2 stitches
// later than planned: there it would sit right above catch c of round 7, in every repeat".
func (r *shownRow) reasons() []string {
	switch {
	case r.finished:
		return nil
	case r.kept:
		return []string{r.name() + " was begun before the plan changed: it is finished as it was shown then"}
	case r.number < 2 || slices.Equal(r.shown, r.planned):
		return nil
	}
	departures, g := r.departures(), newGrouping(r.Course)
	var blocked []Mark
	for _, m := range departures {
		if r.rightBelow(m.From).Stitch != 0 {
			blocked = append(blocked, m.From)
		}
	}
	for _, m := range departures {
		g.add(m.at(), r.departed(m, blocked)+",")
	}
	return g.lines()
}

// departures are the catches of a row to come that the plan has elsewhere, in order. From is zero
// where the row has one more than planned, To where one planned is left out.
func (r *shownRow) departures() []Move {
	c := r.piece.Compare(r.number, r.planned, r.shown)
	all := c.Moved
	for _, m := range c.Missed {
		all = append(all, Move{From: m})
	}
	for _, m := range c.Extra {
		all = append(all, Move{To: m})
	}
	slices.SortStableFunc(all, func(a, b Move) int { return a.at() - b.at() })
	return all
}

func (m Move) at() int { return cmp.Or(m.To.Stitch, m.From.Stitch) }

func (r *shownRow) departed(m Move, blocked []Mark) string {
	letter := r.ShownAs(m.To)
	switch {
	case m.From.Stitch == 0:
		return fmt.Sprintf("catch %s is one more than planned, so that no gap is over the limit", letter)
	case m.To.Stitch == 0:
		return fmt.Sprintf("the catch of %s planned on stitch %d is left out: %s", r.piece.yarnName(m.From.Yarn), r.PlaceOf(m.From.Stitch).Stitch, r.why(m.From, blocked))
	}
	return fmt.Sprintf("catch %s is %s than planned: %s", letter, m.words(), r.why(m.From, blocked))
}

// why tells why the catch planned there departs; blocked are those planned right above a catch made below.
func (r *shownRow) why(from Mark, blocked []Mark) string {
	below := fmt.Sprintf("%s %d", r.piece.rowWord(), r.number-1)
	alike := func(other Mark) bool {
		return other.Yarn == from.Yarn && r.InPattern(other.Stitch) == r.InPattern(from.Stitch)
	}
	comesOver := func(s passage) bool {
		return s.Kind == floats.OverStart && s.Row == r.number-2 && s.passes(from.Yarn, from.Stitch)
	}
	switch on := r.rightBelow(from); {
	case on.Stitch > 0:
		return fmt.Sprintf("there it would sit right above %s of %s", r.piece.rowShown(r.number-1).logged(on).name(), below)
	case slices.ContainsFunc(blocked, alike):
		return "so it stays like the repeats in which it had to move"
	case slices.ContainsFunc(r.piece.passages(r.number), comesOver):
		return "its strand comes over the start of the round and was caught otherwise in " + below
	}
	return "another catch of its strand had to move, and the gaps are evened"
}

// rightBelow is the catch made in the row below in the column of a mark; zero where there is none.
func (r *shownRow) rightBelow(m Mark) Mark {
	below := r.piece.Row(r.number - 1)
	if m.Stitch == 0 || r.Columns() != below.Columns() {
		return Mark{}
	}
	for _, other := range r.piece.made(r.number - 1) {
		if below.Stitch(other.Stitch).Column == r.Stitch(m.Stitch).Column {
			return other
		}
	}
	return Mark{}
}
