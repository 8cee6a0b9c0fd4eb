package session

import (
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// passage is the part of a float that lies in one row.
type passage struct {
	floats.Float     // as a whole
	from, to     int // stitches of the row, both ends in
}

func (s passage) passes(yarn, stitch int) bool {
	return s.Yarn == yarn && s.from <= stitch && stitch <= s.to
}

// passages are where yarns are carried behind a row.
type passages []passage

func (p *Piece) passages(row int) passages {
	var all passages
	for _, fl := range p.floatsOf(row) {
		n, end := p.Row(fl.Row+1).Stitches(), fl.Stitch+fl.Length-1
		if fl.Row+1 == row {
			all = append(all, passage{fl, fl.Stitch, min(end, n)})
		} else {
			all = append(all, passage{fl, 1, end - n})
		}
	}
	return all
}

// floatsOf gives the floats with a stitch in a row, from 1.
func (p *Piece) floatsOf(row int) []floats.Float {
	return p.Layout.Fabric.RowFloats(row-1, p.State.Setup.RestLimit)
}

// under finds the passage of a yarn behind a stitch; -1 when there is none.
func (all passages) under(yarn, stitch int) int {
	return slices.IndexFunc(all, func(s passage) bool { return s.passes(yarn, stitch) })
}

// behind lists the yarns carried behind a stitch, of one yarn if it was said.
func (all passages) behind(said, stitch int) []int {
	var yarns []int
	for _, s := range all {
		if s.passes(s.Yarn, stitch) && (said == chart.NoYarn || s.Yarn == said) {
			yarns = append(yarns, s.Yarn)
		}
	}
	return yarns
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

// Carried reports whether a yarn of the fabric is carried behind a stitch, so that it can be caught there.
// Stitches count over the whole row, from 1. Behind a row the piece does not have none is carried.
func (p *Piece) Carried(row, stitch, yarn int) bool {
	return row >= 1 && row <= p.Rows() && p.passages(row).under(yarn, stitch) >= 0
}
