package answer

import (
	"fmt"
	"slices"
	"strings"

	d "strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
)

// Document is what a designer reads before knitting.
func (f *Floats) Document() d.Document {
	p := &floatsPage{f: f.of}
	p.opening()
	p.lengths()
	p.caught()
	marks := commonCatches(f.of.Fabric, f.of.Plan)
	p.drawn(marks)
	p.stacks()
	p.crowded(marks)
	p.overStart()
	p.rests()
	p.otherWays()
	return d.Document{Title: f.of.Name, Yarns: f.of.Chart.Yarns, Blocks: p.blocks}
}

type floatsPage struct {
	prose
	f FloatsOf
}

// row is what a row of the work is called.
func (p *floatsPage) row() string {
	if p.f.Fabric.Flat {
		return "row"
	}
	return "round"
}

// title is row with its capital.
func (p *floatsPage) title() string { return strings.ToUpper(p.row()[:1]) + p.row()[1:] }

func (p *floatsPage) rows(n int) string { return d.Counted(n, p.row()) }

func (p *floatsPage) yarn(i int) string { return p.f.Fabric.Yarns[i].Name }

func (p *floatsPage) opening() {
	f := p.f
	how := "in the round"
	if f.Fabric.Flat {
		how = "flat"
	}
	first := &f.Fabric.Rows[0]
	p.heading(d.Named(f.Name, fmt.Sprintf(": %s, %s across, worked %s", p.rows(len(f.Fabric.Rows)), stitches(first.Stitches()), how)))
	p.item("Limit %s%s, %s; caught by %s.", stitches(f.Plan.Limit), p.length(f.Plan.Limit), f.From, session.Catching(f.Plan.Method.String()))
	if len(f.Plan.Catches) == 0 {
		p.item("No float is longer: nothing is to be caught.")
		return
	}
	p.item("The plan makes %s in %s, with a score of %d (lower is better). %s", d.Counted(len(f.Plan.Catches), "catch"),
		p.rows(len(f.Survey.Caught)), f.Plan.Score, proofWords(f.Plan.Score, f.Plan.Bound))
}

// proofWords says how good a plan is known to be, true to the bound.
func proofWords(score, bound int) string {
	if score == bound {
		return "It is proven best: no allowed plan scores lower."
	}
	return fmt.Sprintf("No allowed plan scores under %d: the gap is %d, or %.2f %%.", bound, score-bound, 100*float64(score-bound)/float64(max(1, bound)))
}

// length is a number of stitches as a length at the gauge, in brackets, or "".
func (p *floatsPage) length(n int) string {
	g := p.f.Gauge
	switch {
	case g.IsZero():
		return ""
	case g.Unit() == floats.Inch:
		return fmt.Sprintf(" (%.2f in)", float64(n)*g.StitchWidth()/25.4)
	}
	return fmt.Sprintf(" (%.1f cm)", float64(n)*g.StitchWidth()/10)
}

func (p *floatsPage) lengths() {
	p.heading(d.Words("Floats by length, in all repeats"))
	if len(p.f.Survey.Lengths) == 0 {
		p.item("No yarn is carried anywhere.")
		return
	}
	within, count := 0, 0
	for _, l := range p.f.Survey.Lengths {
		if l.Length <= p.f.Plan.Limit {
			within, count = l.Length, count+l.Count
			continue
		}
		if count > 0 {
			p.item("up to %s: %d, never caught", stitches(within), count)
			count = 0
		}
		p.item("%s%s: %d over the limit (%s)", stitches(l.Length), p.length(l.Length), l.Count, p.byYarn(l))
	}
	if count > 0 {
		p.item("up to %s: %d, never caught", stitches(within), count)
	}
}

func (p *floatsPage) byYarn(l floats.LengthCount) string {
	var words []string
	for yarn, n := range l.ByYarn {
		if n > 0 {
			words = append(words, fmt.Sprintf("%s %d", p.yarn(yarn), n))
		}
	}
	return strings.Join(words, ", ")
}

func (p *floatsPage) caught() {
	if len(p.f.Survey.Caught) == 0 {
		return
	}
	p.heading(d.Words(p.title() + "s that need catches"))
	p.list("", session.Ranges(plusOne(p.f.Survey.Caught)))
}

// plusOne turns indexes into row numbers.
func plusOne(rows []int) []int {
	numbers := slices.Clone(rows)
	for i := range numbers {
		numbers[i]++
	}
	return numbers
}

// drawn is the plan on the chart: one repeat with the catches most repeats have,
// and what is otherwise in the others.
func (p *floatsPage) drawn(marks catchMarks) {
	p.heading(d.Words("The plan on the chart, one repeat"))
	g := draw.TextChart{Yarns: p.f.Chart.Yarns, Chars: 1}
	for i := range p.f.Fabric.Rows {
		r := &p.f.Fabric.Rows[i]
		g.Rows = append(g.Rows, draw.TextRow{
			Symbols: p.f.Chart.Rows[r.ChartRow-1], Cells: r.Cells, Caught: marks.common[i], FromLeft: r.FromLeft,
		})
	}
	if len(p.f.Plan.Catches) > 0 {
		where := "on the stitch above it"
		if p.f.Plan.Method == floats.Twist {
			where = "just before the stitch above it"
		}
		g.Key = fmt.Sprintf("a catch, %s. Numbers of columns count from the right.", where)
	}
	p.add(d.Letters{Drawing: g})
	p.each(len(marks.others), func(i int) {
		p.item("%s %d, otherwise: %s.", p.title(), marks.others[i].row+1, strings.Join(marks.others[i].words, "; "))
	}, func(left int) string { return fmt.Sprintf("And %s more; --json lists every catch.", p.rows(left)) })
}

func (p *floatsPage) stacks() {
	if p.f.Survey.Near > 0 || len(p.f.Reliefs) > 0 {
		p.heading(d.Words("Where catches stack"))
	}
	p.each(len(p.f.Reliefs), func(i int) {
		r := p.f.Reliefs[i]
		times := ""
		if r.Count > 1 {
			times = fmt.Sprintf(" in %d repeats", r.Count)
		}
		p.item("%ss %d and %d, column %d%s: %s above %s. %s", p.title(), r.Row, r.Row+1, r.Column, times, p.yarn(r.Upper), p.yarn(r.Lower), p.reliefWords(r))
	}, func(left int) string { return fmt.Sprintf("And at %s more.", d.Counted(left, "place")) })
	if n := p.f.Survey.Near; n > 0 {
		p.item("%s of catches %s in neighboring columns of neighboring %ss; the plan keeps them few.", d.Counted(n, "pair"), map[bool]string{true: "stands", false: "stand"}[n == 1], p.row())
	}
}

func (p *floatsPage) reliefWords(r floats.Relief) string {
	lead := "No way was found to keep these two " + p.row() + "s apart."
	switch {
	case r.Spare:
		lead = "A spare catch would keep these two apart, but the " + p.row() + "s around them pull the other way."
	case r.RowsAlone:
		lead = "By themselves these two could be kept apart, but the " + p.row() + "s around them pull the other way."
	}
	var ways []string
	if r.Limit > 0 {
		ways = append(ways, fmt.Sprintf("a limit of %d", r.Limit))
	}
	if s := r.Stitch; s != nil {
		ways = append(ways, fmt.Sprintf("one stitch of %s in column %d of %s %d", p.yarn(s.Yarn), s.Column, p.row(), s.Row+1))
	}
	if len(ways) == 0 {
		return lead + " Another motif there is the way out."
	}
	return lead + " What avoids it, tried: " + strings.Join(ways, ", or ") + "."
}

// crowded lists the rows of three yarns, and where each is caught: the marks on the
// chart do not say which of the two yarns carried is meant.
func (p *floatsPage) crowded(marks catchMarks) {
	if len(p.f.Survey.Crowded) == 0 {
		return
	}
	p.heading(d.Words(p.title() + "s of three yarns or more"))
	p.list("", session.Ranges(plusOne(p.f.Survey.Crowded)))
	for _, row := range p.f.Survey.Crowded[:min(rowsListed, len(p.f.Survey.Crowded))] {
		if words := marks.yarns[row]; len(words) > 0 {
			p.item("%s %d, caught: %s.", p.title(), row+1, strings.Join(words, "; "))
		}
	}
	p.item("%s", hold.ThirdYarn)
}

func (p *floatsPage) overStart() {
	if len(p.f.Survey.OverStart) == 0 {
		return
	}
	p.heading(d.Words("Too long over the start of the round, though neither piece is by itself"))
	type alike struct{ yarn, below, above int }
	var order []alike
	rounds := map[alike][]int{} // in which they begin, from 1
	for _, fl := range p.f.Survey.OverStart {
		below := p.f.Fabric.Rows[fl.Row].Stitches() - fl.Stitch + 1
		key := alike{fl.Yarn, below, fl.Length - below}
		if rounds[key] == nil {
			order = append(order, key)
		}
		rounds[key] = append(rounds[key], fl.Row+1)
	}
	for _, a := range order {
		p.list(fmt.Sprintf("%s behind %s, %d and %d, from these rounds to the next:", p.yarn(a.yarn), stitches(a.below+a.above), a.below, a.above), session.Ranges(rounds[a]))
	}
}

func (p *floatsPage) rests() {
	if len(p.f.Survey.Rests) == 0 {
		return
	}
	p.heading(d.Words("Yarns at rest"))
	p.each(len(p.f.Survey.Rests), func(i int) {
		r := p.f.Survey.Rests[i]
		when := map[bool]string{true: "in", false: "from"}[r.FromRow == r.ToRow]
		p.add(d.Line{Text: d.Named(p.yarn(r.Yarn), fmt.Sprintf(" rests %s %s %s.%s", when, p.row(), through(r.FromRow, r.ToRow), restWords(r)))})
	}, andMore)
}

func restWords(r floats.Rest) string {
	switch {
	case r.Cut:
		return " Too long to carry up: cut it and rejoin it."
	case r.Across:
		return fmt.Sprintf(" It waits at the wrong edge: carry it behind all of row %d, or cut and rejoin it, or slide the stitches to the other tip.", r.ToRow+1)
	}
	return ""
}

func (p *floatsPage) otherWays() {
	s := p.f.Survey
	if len(s.Ladders) == 0 && len(s.Spots) == 0 {
		return
	}
	p.heading(d.Words("Better worked another way"))
	if len(s.Ladders) > 0 {
		p.item("Floats far over the limit, above each other, for which a ladder of extra stitches at the back may serve better than many catches:")
	}
	p.each(len(s.Ladders), func(i int) {
		l := s.Ladders[i]
		p.item("%s %s: %s, up to %s", p.row(), through(l.From, l.To), p.yarn(l.Yarn), stitches(l.Longest))
	}, andMore)
	if len(s.Spots) > 0 {
		p.item("Lone spots, which duplicate stitch (Swiss darning in the UK) saves carrying for, when the piece is finished:")
	}
	p.each(len(s.Spots), func(i int) {
		o := s.Spots[i]
		p.item("%s %s, around column %d of the repeat: %s of %s", p.row(), through(o.From, o.To), o.Column, stitches(o.Stitches), p.yarn(o.Yarn))
	}, andMore)
	p.aside("Far is %d times the limit and more: a choice of this program.", floats.Far)
}

// through is the numbers of rows from the first index to the last.
func through(from, to int) string { return d.Stretch{From: from + 1, To: to + 1}.Rows() }
