package session

import (
	"fmt"
	"slices"

	"strandwise/floats"
)

// Reason is why a catch of a row to come is not where the plan has it.
type Reason struct {
	From  Mark // as planned; zero where the row has one more than planned
	To    Mark // as shown; zero where one planned is left out
	On    Mark // the catch made below in the column of the planned one; zero where there is none
	Alike bool // it goes along with other repeats, where it would stand on one
	Over  bool // its strand comes over the start, and was caught otherwise below
}

// Reasons tells of each catch of a row to come that the plan has elsewhere, in order; none
// when the row is as planned.
func (p *Piece) Reasons(row int) []Reason {
	if row < 2 || !p.Departs(row) {
		return nil
	}
	planned, shown := p.planned(row), p.Shown(row)
	changes := p.Compare(row, planned, shown)
	var reasons []Reason
	for _, m := range changes.Moved {
		reasons = append(reasons, Reason{From: m.From, To: m.To})
	}
	for _, m := range changes.Missed {
		reasons = append(reasons, Reason{From: m})
	}
	for _, m := range changes.Extra {
		reasons = append(reasons, Reason{To: m})
	}
	p.explain(row, reasons)
	slices.SortStableFunc(reasons, func(a, b Reason) int { return a.stitch() - b.stitch() })
	return reasons
}

// stitch is where a reason comes in order.
func (r Reason) stitch() int {
	if r.To.Stitch > 0 {
		return r.To.Stitch
	}
	return r.From.Stitch
}

// explain finds on which catch below the planned ones would stand, and what else moved them.
func (p *Piece) explain(row int, reasons []Reason) {
	for i := range reasons {
		r := &reasons[i]
		r.On, r.Over = p.rightBelow(row, r.From), p.comesOver(row, r.From)
	}
	for i := range reasons {
		reasons[i].Alike = reasons[i].On.Stitch == 0 && slices.ContainsFunc(reasons, func(other Reason) bool {
			return other.On.Stitch > 0 && other.From.Yarn == reasons[i].From.Yarn && (other.From.Stitch-reasons[i].From.Stitch)%p.Row(row).RepeatStitches() == 0
		})
	}
}

// comesOver reports whether the strand a mark catches comes over the start from the row
// below.
func (p *Piece) comesOver(row int, m Mark) bool {
	return slices.ContainsFunc(p.passages(row), func(s passage) bool {
		return s.Kind == floats.OverStart && s.Row == row-2 && s.passes(m.Yarn, m.Stitch)
	})
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

// ReasonWords tells why the catches of a row to come are not where the plan has them, those
// alike in several repeats together: "catch a is 2 stitches later than planned: there it would
// stand right above catch c of round 7, in every repeat".
func (p *Piece) ReasonWords(row int) []string {
	if p.kept(row) {
		return []string{fmt.Sprintf("%s %d was begun before the plan changed: it is finished as it was shown then", p.rowWord(), row)}
	}
	g := p.grouping(row)
	letters := p.Letters(row)
	for _, r := range p.Reasons(row) {
		at := r.To
		if at.Stitch == 0 {
			at = r.From
		}
		g.add(g.place(at).Repeat, p.reasonLine(r, row, letterOf(letters, r.To, g.width), g)+",")
	}
	return g.lines()
}

func (p *Piece) reasonLine(r Reason, row int, letter string, g *grouping) string {
	switch {
	case r.From.Stitch == 0:
		return fmt.Sprintf("catch %s is one more than planned, so that no gap is over the limit", letter)
	case r.To.Stitch == 0:
		return fmt.Sprintf("the catch of %s planned on stitch %d is left out: %s", p.yarnName(r.From.Yarn), g.place(r.From).Stitch, p.why(r, row))
	}
	return fmt.Sprintf("catch %s is %s than planned: %s", letter, Move{r.From, r.To}.words(), p.why(r, row))
}

// why tells what speaks against a catch on its planned stitch.
func (p *Piece) why(r Reason, row int) string {
	switch {
	case r.On.Stitch > 0:
		return fmt.Sprintf("there it would sit right above %s of %s %d", p.catchAt(row-1, r.On), p.rowWord(), row-1)
	case r.Alike:
		return "so it stays like the repeats in which it had to move"
	case r.Over:
		return fmt.Sprintf("its strand comes over the start of the round and was caught otherwise in %s %d", p.rowWord(), row-1)
	}
	return "another catch of its strand had to move, and the gaps are evened"
}

// catchAt names a catch made in a row: by its letter, one that was moved by that with
// which it was shown, an extra one by its stitch.
func (p *Piece) catchAt(row int, m Mark) string {
	if letter := p.LetterOf(row, m); letter != "" {
		return "catch " + letter
	}
	return fmt.Sprintf("the extra catch on stitch %d", p.PlaceOf(row, m.Stitch).Stitch)
}
