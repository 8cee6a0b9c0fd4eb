package session

import (
	"fmt"
	"slices"

	"strandwise/floats"
)

// RowNote is something to know about one row, in plain words.
type RowNote struct {
	Kind string `json:"kind"` // what it is about: over-start, rest, across, cut, rejoin, edge, shared, slack, lost, count or steek
	Text string `json:"text"`
}

type noting struct {
	*shownRow
	*Piece
	all []RowNote
}

func (n *noting) add(kind, format string, args ...any) {
	n.all = append(n.all, RowNote{kind, fmt.Sprintf(format, args...)})
}

// notes tells what the knitter has to act on in the row.
func (r *shownRow) notes() []RowNote {
	n := &noting{shownRow: r, Piece: r.piece}
	for _, s := range n.passages(n.number) {
		n.float(s)
	}
	for _, r := range n.Resting(n.number) {
		n.rest(r)
	}
	if n.number > 1 {
		if told := n.Layout.misfit(n.number); told != "" {
			n.add("count", "%s", told)
		}
		n.turned()
		n.rejoined()
	}
	if n.number < n.Rows() {
		n.left()
	}
	n.steek()
	n.shared()
	n.lost()
	n.slack()
	return n.all
}

// Resting lists the yarns that wait while a row, from 1, is worked.
func (p *Piece) Resting(row int) []floats.Rest {
	return p.Layout.Fabric.RowRests(row-1, p.State.Setup.RestLimit)
}

// float speaks of floats over the limit that a look at this row alone does not show.
func (n *noting) float(fl passage) {
	if fl.Length <= n.Limit {
		return
	}
	switch name := n.yarnName(fl.Yarn); fl.Kind {
	case floats.OverStart:
		n.overStart(fl)
	case floats.ToEdge:
		n.add("edge", "%s runs %s to the edge and waits there", name, plural(fl.Length, "stitch"))
	case floats.FromEdge:
		n.add("edge", "%s comes from the edge, %s to its first", name, plural(fl.Length, "stitch"))
	}
}

// overStart says how a float goes over the start of the round, in the round in which it is caught: where
// there is nothing to do there is nothing to say. One in a single round after all is seen in its row.
func (n *noting) overStart(fl passage) {
	here := fl.to - fl.from + 1
	there := fl.Length - here
	caught := slices.ContainsFunc(n.shown, func(m Mark) bool { return fl.passes(m.Yarn, m.Stitch) })
	if there == 0 || !caught {
		return
	}
	name := n.yarnName(fl.Yarn)
	if lower := fl.Row + 1; lower < n.number {
		n.add("over-start", "%s comes over the start from round %d: %s there and %d here are %d together, over the limit of %d",
			name, lower, plural(there, "stitch"), here, fl.Length, n.Limit)
		return
	}
	n.add("over-start", "%s runs over the start of the round: %s here and %d of round %d are %d together, over the limit of %d",
		name, plural(here, "stitch"), there, n.number+1, fl.Length, n.Limit)
}

// turned tells how a yarn is anchored where flat work was turned: one worked in neither the last stitch
// before the turn nor the first after it is led across for that, or the two pieces are one long float.
func (n *noting) turned() {
	if !n.Layout.Fabric.Flat {
		return
	}
	under := n.Piece.Row(n.number - 1)
	below, here := under.InOrder(), n.InOrder()
	first, last := here[0].Yarn, below[len(below)-1].Yarn
	side := "right"
	if n.State.Setup.Mirror {
		side = "left"
	}
	for _, s := range n.shownRow.YarnPlaces {
		if y := s.Yarn.Index; y == first || y == last || !rowWorks(under, y) {
			continue
		}
		there, back := "over", "beneath"
		if s.Place != n.hands.Places()[0] {
			there, back = back, there
		}
		n.add("edge", "at the turn lead %s to the %s %s %s; after the first stitch it comes back %s",
			s.Yarn.Name, side, there, n.yarnName(first), back)
	}
}

func (n *noting) rest(r floats.Rest) {
	name, next := n.yarnName(r.Yarn), r.ToRow+2
	switch {
	case r.Cut:
	case r.Across && r.ToRow == n.number-1:
		n.add("across", "%s waits at the wrong edge for row %d: carry it behind this whole row, or cut and rejoin it, or slide the stitches to the other tip and skip turning",
			name, next)
	case (n.number-1-r.FromRow)%2 == 0:
		n.add("rest", "%s waits at the edge until %s %d: before the first stitch lay it over the working yarn", name, n.rowWord(), next)
	}
}

func (n *noting) left() {
	for _, r := range n.Resting(n.number + 1) {
		if r.Cut && r.FromRow == n.number {
			word := n.rowWord()
			n.add("cut", "after this %s cut %s: it rests for %s; rejoin it in %s %d", word, n.yarnName(r.Yarn), plural(r.ToRow-r.FromRow+1, word), word, r.ToRow+2)
		}
	}
}

func (n *noting) rejoined() {
	for _, r := range n.Resting(n.number - 1) {
		if r.Cut && r.ToRow == n.number-2 {
			n.add("rejoin", "rejoin %s in this %s", n.yarnName(r.Yarn), n.rowWord())
		}
	}
}

// steek tells, in the first row of a part that has a steek, where the round begins and the cut will be.
func (n *noting) steek() {
	if !n.begins() {
		return
	}
	for _, b := range n.Layout.Parts[n.Part].Blocks() {
		if b.Steek == 0 {
			continue
		}
		after, cut := (b.Steek+1)/2, "between its two middle stitches, the last of the round and the first"
		if b.Steek%2 == 1 {
			cut = "along its middle stitch, the last of the round"
		}
		n.add("steek", "a steek of %d stitches, %d at the end of the round and %d at its start, in stripes: it is cut %s; both sides are secured first",
			b.Steek, after, b.Steek-after, cut)
		return
	}
}

// shared tells where a third yarn of the row goes.
func (n *noting) shared() {
	for _, s := range n.shownRow.YarnPlaces {
		if s.Shares {
			n.add("shared", "%s is the third yarn: it shares the %s; keep one order from top to bottom", s.Yarn.Name, s.Place)
		}
	}
}

// slack says how to keep the carried yarn from pulling in (common practice): once, with the first
// catch of the piece, and with the first float that runs as far uncaught as any may.
func (n *noting) slack() {
	caught := func(row int) bool { return len(n.Piece.made(row)) > 0 }
	if n.first(caught) || n.first(n.runsLong) {
		n.add("slack", "spread the last stitches on the needle before a new yarn takes over, so that the strand behind them lies slack")
	}
}

func (n *noting) first(holds func(row int) bool) bool {
	if !holds(n.number) {
		return false
	}
	for row := 1; row < n.number; row++ {
		if holds(row) {
			return false
		}
	}
	return true
}

// longStretch is the fewest stitches that are far for a strand: about an inch in most colorwork yarns.
const longStretch = 5

// runsLong reports whether a yarn passes the whole limit of a row uncaught.
func (p *Piece) runsLong(row int) bool {
	limit := p.State.SegmentAt(row).Limit
	return limit >= longStretch && slices.ContainsFunc(p.floatsOf(row), func(fl floats.Float) bool {
		return fl.Length == limit && fl.Kind == floats.Within
	})
}

// lost names the rules of a plan that a row cannot keep, since the row below it was caught otherwise.
func (n *noting) lost() {
	below := n.number - 1
	if below < 1 || n.finished || slices.Equal(n.Piece.made(below), n.Schedule.Row(below)) {
		return
	}
	lost, err := n.Layout.Fabric.CheckRow(n.deviation(n.number, n.Piece.made(below)), asCatches(below, n.shown))
	if err != nil {
		return // a row that is begun keeps what an older plan gave it
	}
	for _, l := range lost {
		n.add("lost", "%s over the start of the round: %s, since %s %d was caught otherwise; no catch here can mend that", n.nameOf(l.Yarn), l.Rule, n.rowWord(), below)
	}
}
