package session

import (
	"cmp"
	"fmt"
	"slices"

	"strandwise/floats"
)

// reasons tells why the catches of a row to come are not where the plan has them, those
// alike in several repeats together: "catch a is 2 stitches later than planned: there it would
// stand right above catch c of round 7, in every repeat".
func (p *Piece) reasons(row int) []string {
	switch {
	case p.kept(row):
		return []string{fmt.Sprintf("%s %d was begun before the plan changed: it is finished as it was shown then", p.rowWord(), row)}
	case row < 2 || !p.Departs(row):
		return nil
	}
	e := explaining{Piece: p, row: row, grouping: p.grouping(row), letters: p.Letters(row)}
	departures := p.departures(row)
	for _, m := range departures {
		if p.rightBelow(row, m.From).Stitch > 0 {
			e.blocked = append(e.blocked, m.From)
		}
	}
	for _, m := range departures {
		e.add(m.at(), e.line(m)+",")
	}
	return e.lines()
}

// departures are the catches of a row to come that the plan has elsewhere, in order. From is zero
// where the row has one more than planned, To where one planned is left out.
func (p *Piece) departures(row int) []Move {
	c := p.Compare(row, p.planned(row), p.Shown(row))
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

// at is the stitch where a departure is told.
func (m Move) at() int { return cmp.Or(m.To.Stitch, m.From.Stitch) }

// explaining is a row to come while it is told why its catches are not where the plan has them.
type explaining struct {
	*Piece
	*grouping
	row     int
	letters []Catch
	blocked []Mark // planned right above a catch made below
}

func (e *explaining) line(m Move) string {
	letter := letterOf(e.letters, m.To, e.grouping.row)
	switch {
	case m.From.Stitch == 0:
		return fmt.Sprintf("catch %s is one more than planned, so that no gap is over the limit", letter)
	case m.To.Stitch == 0:
		return fmt.Sprintf("the catch of %s planned on stitch %d is left out: %s", e.yarnName(m.From.Yarn), e.PlaceOf(e.row, m.From.Stitch).Stitch, e.why(m.From))
	}
	return fmt.Sprintf("catch %s is %s than planned: %s", letter, m.words(), e.why(m.From))
}

// why tells what speaks against a catch on its planned stitch.
func (e *explaining) why(from Mark) string {
	below := fmt.Sprintf("%s %d", e.rowWord(), e.row-1)
	pattern := e.grouping.row.InPattern
	alike := func(other Mark) bool {
		return other.Yarn == from.Yarn && pattern(other.Stitch) == pattern(from.Stitch)
	}
	comesOver := func(s passage) bool {
		return s.Kind == floats.OverStart && s.Row == e.row-2 && s.passes(from.Yarn, from.Stitch)
	}
	switch on := e.rightBelow(e.row, from); {
	case on.Stitch > 0:
		return fmt.Sprintf("there it would sit right above %s of %s", e.catchAt(e.row-1, on), below)
	case slices.ContainsFunc(e.blocked, alike):
		return "so it stays like the repeats in which it had to move"
	case slices.ContainsFunc(e.passages(e.row), comesOver):
		return "its strand comes over the start of the round and was caught otherwise in " + below
	}
	return "another catch of its strand had to move, and the gaps are evened"
}

// rightBelow is the catch made in the row below in the column of a mark; zero where there
// is none or the rows have not the same columns.
func (p *Piece) rightBelow(row int, m Mark) Mark {
	this, below := p.Row(row), p.Row(row-1)
	if m.Stitch == 0 || this.Columns() != below.Columns() {
		return Mark{}
	}
	column := ColumnOf(this, m.Stitch)
	for _, other := range p.made(row - 1) {
		if ColumnOf(below, other.Stitch) == column {
			return other
		}
	}
	return Mark{}
}

// catchAt names a catch made in a row: by its letter, one that was moved by that with
// which it was shown, an extra one by its stitch.
func (p *Piece) catchAt(row int, m Mark) string {
	if letter := p.LetterOf(row, m); letter != "" {
		return "catch " + letter
	}
	return fmt.Sprintf("the extra catch on stitch %d", p.PlaceOf(row, m.Stitch).Stitch)
}
