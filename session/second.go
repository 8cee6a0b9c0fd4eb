package session

import (
	"slices"

	"strandwise/floats"
)

// The second of a pair is to be caught as the first was made, so that both look and feel alike: also where
// the knitter caught otherwise than planned and the strands hold as well. A row is taken over as a whole or
// not at all: not one that would leave a gap over the limit, alone or with the rows beside it, since a catch
// missed once is not to be missed twice. A catch on a float within the limit is left out: it would hold
// nothing and can show. Where charts are turned the floats over the start join other stitches.

// FollowFirst lets the plan take over the catches made in the first of the pair, in every row: what a row is
// shown with must not hang on how many are finished when it is asked for. First needs its state and layout
// only. The time is linear in the stitches of the piece.
func (p *Piece) FollowFirst(first *Piece) {
	rows := slices.Clone(p.Schedule.rows)
	changed := map[int]bool{} // rows
	for row := 1; row <= min(len(rows), first.State.Row); row++ {
		if marks, ok := p.ofFirst(first, row); ok && !slices.Equal(marks, rows[row-1]) {
			rows[row-1], changed[row] = marks, true
		}
	}
	if len(changed) == 0 {
		return
	}
	p.giveBack(rows, changed)
	schedule := *p.Schedule
	schedule.rows = rows
	p.Schedule = &schedule
}

// ofFirst gives the catches made in a row of the first as they stand in this piece, turned where its charts
// are, if they can. Yarns are matched by symbol, since a change of chart in mid-piece numbers them otherwise,
// and a row the first worked from another chart is no guide.
func (p *Piece) ofFirst(first *Piece, row int) (marks []Mark, ok bool) {
	r := p.Row(row)
	method := p.State.GripAt(row).FloatMethod()
	if !p.sameStitches(first, row) || method != first.State.GripAt(row).FloatMethod() {
		return nil, false
	}
	all := p.passages(row)
	for _, m := range first.State.DoneRow(row).Used {
		if p.State.Setup.Mirrored {
			m.Stitch = turnedStitch(m.Stitch, r.Stitches(), method)
		}
		m.Yarn = p.Layout.Fabric.Yarn(first.Layout.Fabric.Yarns[m.Yarn].Symbol)
		at := all.under(m.Yarn, m.Stitch)
		if at < 0 {
			return nil, false
		}
		if all[at].Length > p.State.Setup.Limit {
			marks = append(marks, m)
		}
	}
	slices.SortFunc(marks, Mark.Compare)
	return marks, true
}

// sameStitches reports whether the first has the same yarns in a row, turned where charts are.
func (p *Piece) sameStitches(first *Piece, row int) bool {
	other := first.symbols(row)
	if p.State.Setup.Mirrored {
		slices.Reverse(other)
	}
	return slices.Equal(p.symbols(row), other)
}

// turnedStitch is the stitch of a catch in a row of n stitches turned left to right. A
// twist before stitch s lies after stitch s-1, so turned it comes before that one.
func turnedStitch(stitch, n int, method floats.Method) int {
	if method == floats.Twist {
		return n + 2 - stitch
	}
	return n + 1 - stitch
}

// giveBack puts the plan's catches back into changed rows that leave a gap over the limit.
func (p *Piece) giveBack(rows [][]Mark, changed map[int]bool) {
	for again := true; again; {
		again = false
		for _, g := range p.gapsOver(p.Strands(len(rows), func(row int) []Mark { return rows[row-1] })) {
			for _, row := range []int{g.From.Row, g.To.Row} {
				if changed[row] {
					rows[row-1] = p.Schedule.Row(row)
					delete(changed, row)
					again = true
				}
			}
		}
	}
}
