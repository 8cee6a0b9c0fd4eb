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
	Would int  // what the planned one would cost in points, gaps apart
	Costs int  // what the shown one costs
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
	p.price(row, planned, shown, reasons)
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

// price finds the costs of the catches, and on which catch below the planned ones stand.
func (p *Piece) price(row int, planned, shown []Mark, reasons []Reason) {
	d := p.deviation(row, p.made(row-1))
	cost := func(m Mark, beside []Mark) int {
		if m.Stitch == 0 {
			return 0
		}
		return p.Layout.Fabric.CatchCosts(d, asCatches(row-1, beside), asCatches(row-1, []Mark{m}))[0]
	}
	for i := range reasons {
		r := &reasons[i]
		r.Would, r.Costs = cost(r.From, planned), cost(r.To, shown)
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
	for _, fl := range p.Layout.Fabric.RowFloats(row-1, p.State.Setup.RestLimit) {
		if fl.Kind != floats.OverStart || fl.Row != row-2 || fl.Yarn != m.Yarn {
			continue
		}
		if lie := p.passageIn(row, fl); lie.from <= m.Stitch && m.Stitch <= lie.to {
			return true
		}
	}
	return false
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

// ReasonWords tells the reasons of a row to come, those alike in several repeats together: "oat on 8,
// planned on 6, 2 stitches later: on 6 it would stand right above oat on 19 of round 7 and
// cost 160 points, here 60, in every repeat". Stitches count within the repeat.
func (p *Piece) ReasonWords(row int) []string {
	if p.kept(row) {
		return []string{fmt.Sprintf("%s %d was begun before the plan changed: it is finished as it was shown then", p.rowWord(), row)}
	}
	g := p.grouping(row)
	reasons := p.Reasons(row)
	for _, r := range reasons {
		at := r.To
		if at.Stitch == 0 {
			at = r.From
		}
		g.add(at, p.reasonLine(r, row, g))
	}
	return g.lines()
}

func (p *Piece) reasonLine(r Reason, row int, g *grouping) string {
	if r.From.Stitch == 0 {
		return fmt.Sprintf("%s on %d, one more than planned, so that no gap is over the limit; it costs %s",
			p.yarnName(r.To.Yarn), g.within(r.To.Stitch), plural(r.Costs, "point"))
	}
	planned := g.within(r.From.Stitch)
	text := fmt.Sprintf("%s planned on %d is left out", p.yarnName(r.From.Yarn), planned)
	if by := r.To.Stitch - r.From.Stitch; r.To.Stitch > 0 {
		way := "later"
		if by < 0 {
			by, way = -by, "earlier"
		}
		text = fmt.Sprintf("%s on %d, planned on %d, %s %s", p.yarnName(r.To.Yarn), g.within(r.To.Stitch), planned, plural(by, "stitch"), way)
	}
	text += ": " + p.why(r, row, planned)
	if r.To.Stitch > 0 {
		text += fmt.Sprintf(", here %d", r.Costs)
	}
	return text
}

// why tells what speaks against a catch on the planned stitch of the repeat, and what it
// would cost there.
func (p *Piece) why(r Reason, row, planned int) string {
	cost := plural(r.Would, "point")
	switch {
	case r.On.Stitch > 0:
		below := (r.On.Stitch-1)%p.Row(row-1).RepeatStitches() + 1
		return fmt.Sprintf("on %d it would stand right above %s on %d of %s %d and cost %s",
			planned, p.yarnName(r.On.Yarn), below, p.rowWord(), row-1, cost)
	case r.Alike:
		return fmt.Sprintf("to stay alike with the repeats in which it had to move; on %d it would cost %s", planned, cost)
	case r.Over:
		return fmt.Sprintf("its strand comes over the start and was caught otherwise in %s %d; on %d it would cost %s", p.rowWord(), row-1, planned, cost)
	}
	return fmt.Sprintf("another catch of its strand had to move, and the gaps are evened; on %d it would cost %s", planned, cost)
}

// deviation is what a row is chosen anew against.
func (p *Piece) deviation(row int, below []Mark) floats.Deviation {
	return floats.Deviation{
		Task:  p.State.Task(),
		Row:   row - 1,
		Below: asCatches(row-2, below),
		Made:  p.State.GripAt(row - 1).FloatMethod(),
		Plan:  func(r int) []floats.Catch { return asCatches(r, p.Schedule.Row(r+1)) },
	}
}
