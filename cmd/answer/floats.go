package answer

import (
	"fmt"
	"strings"

	"strandwise/chart"
	d "strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
)

// FloatsOf is what the floats of a chart are told from before it is knitted. Only the document
// needs the survey and the reliefs, which take long.
type FloatsOf struct {
	Name      string // of the chart: its title, or its file
	Chart     *chart.Chart
	Fabric    *floats.Fabric
	Gauge     floats.Gauge // may be zero
	From      string       // where the limit comes from, in words
	RestLimit int          // rows a yarn rests without being cut
	Plan      *floats.Plan
	Survey    *floats.Survey
	Reliefs   []floats.Relief // one for each stack of the survey
}

// Floats is the JSON of floats, schema 1. Rows and stitches count from 1,
// stitches in knitting order over the whole row; yarns are symbols. Floats are
// listed in every repeat, the short ones too, ordered by row, stitch, yarn. Bound
// is what no allowed plan scores less than; proven says that it equals score.
type Floats struct {
	Limit   int          `json:"limit"`
	Score   int          `json:"score"`
	Proven  bool         `json:"proven"`
	Bound   int          `json:"bound"`
	Floats  []Float      `json:"floats"`
	Catches []FloatCatch `json:"catches"`
	Rests   []Rest       `json:"rests"`

	FloatsOf   `json:"-"`
	row, title string // what a row of the work is called, and with its capital
}

// Float is a float by its first stitch. Kind is within, over-start, to-edge,
// from-edge or across.
type Float struct {
	Row    int    `json:"row"`
	Stitch int    `json:"stitch"`
	Length int    `json:"length"`
	Yarn   string `json:"yarn"`
	Kind   string `json:"kind"`
}

// FloatCatch is a catch, on its stitch (weave) or just before it (twist).
type FloatCatch struct {
	Row    int    `json:"row"`
	Stitch int    `json:"stitch"`
	Yarn   string `json:"yarn"`
}

// Rest is a yarn that waits for whole rows, from the first to the last of them;
// cut says that it rests too long to be carried up.
type Rest struct {
	Yarn    string `json:"yarn"`
	FromRow int    `json:"from_row"`
	ToRow   int    `json:"to_row"`
	Cut     bool   `json:"cut"`
}

// NewFloats makes the answer.
func NewFloats(of FloatsOf) *Floats {
	f, p := of.Fabric, of.Plan
	row := session.RowWord(!f.Flat)
	yarn := func(i int) string { return string(f.Yarns[i].Symbol) }
	return &Floats{
		Limit: p.Limit, Score: p.Score, Proven: p.Proven, Bound: p.Bound, FloatsOf: of, row: row, title: d.Capital(row),
		Floats: mapped(f.Floats(of.RestLimit), func(fl floats.Float) Float {
			return Float{fl.Row + 1, fl.Stitch, fl.Length, yarn(fl.Yarn), fl.Kind.String()}
		}),
		Catches: mapped(p.Catches, func(c floats.Catch) FloatCatch { return FloatCatch{c.Row + 1, c.Stitch, yarn(c.Yarn)} }),
		Rests: mapped(f.Rests(of.RestLimit), func(r floats.Rest) Rest {
			return Rest{yarn(r.Yarn), r.FromRow + 1, r.ToRow + 1, r.Cut}
		}),
	}
}

// Document is what a designer reads before knitting.
func (a *Floats) Document() d.Document {
	p, marks := &prose{}, commonCatches(a.Fabric, a.Plan)
	a.opening(p)
	a.lengths(p)
	p.rows(a.title+"s that need catches", a.Survey.Caught)
	a.drawn(p, marks)
	a.stacks(p)
	a.crowded(p, marks)
	a.overStart(p)
	a.rests(p)
	a.otherWays(p)
	return d.Document{Title: a.Name, Yarns: a.Chart.Yarns, Blocks: p.blocks}
}

func (a *Floats) rows(n int) string { return d.Counted(n, a.row) }

func (a *Floats) yarn(i int) string { return a.Fabric.Yarns[i].Name }

func (a *Floats) opening(p *prose) {
	how := map[bool]string{true: "flat", false: "in the round"}[a.Fabric.Flat]
	p.heading(d.Named(a.Name, fmt.Sprintf(": %s, %s across, worked %s", a.rows(len(a.Fabric.Rows)), stitches(a.Fabric.Rows[0].Stitches()), how)))
	limit := fmt.Sprintf("Limit %s%s, %s; caught by %s.", stitches(a.Plan.Limit), a.length(a.Plan.Limit), a.From, session.Catching(a.Plan.Method.String()))
	p.add(d.Line{Text: measured(limit, "row")})
	if len(a.Plan.Catches) == 0 {
		p.item("No float is longer: nothing is to be caught.")
		return
	}
	p.item("The plan makes %s in %s, with a score of %d (lower is better). %s", d.Counted(len(a.Plan.Catches), "catch"),
		a.rows(len(a.Survey.Caught)), a.Plan.Score, proofWords(a.Plan.Score, a.Plan.Bound))
}

// proofWords says how good a plan is known to be, true to the bound.
func proofWords(score, bound int) string {
	if score == bound {
		return "It is proven best: no allowed plan scores lower."
	}
	return fmt.Sprintf("No allowed plan scores under %d: the gap is %d, or %.2f %%.", bound, score-bound, 100*float64(score-bound)/float64(max(1, bound)))
}

// length is a number of stitches as a length at the gauge, in brackets, or "".
func (a *Floats) length(n int) string {
	mm := float64(n) * a.Gauge.StitchWidth()
	switch {
	case a.Gauge.IsZero():
		return ""
	case a.Gauge.Unit() == floats.Inch:
		return fmt.Sprintf(" (%.2f in)", mm/25.4)
	}
	return fmt.Sprintf(" (%.1f cm)", mm/10)
}

func (a *Floats) lengths(p *prose) {
	p.heading(d.Words("Floats by length, in all repeats"))
	if len(a.Survey.Lengths) == 0 {
		p.item("No yarn is carried anywhere.")
		return
	}
	within, count := 0, 0
	var over []string
	for _, l := range a.Survey.Lengths {
		if l.Length <= a.Plan.Limit {
			within, count = l.Length, count+l.Count
		} else {
			over = append(over, fmt.Sprintf("%s%s: %d over the limit (%s)", stitches(l.Length), a.length(l.Length), l.Count, a.byYarn(l)))
		}
	}
	if count > 0 {
		p.item("up to %s: %d, never caught", stitches(within), count)
	}
	p.eachItem(over)
}

func (a *Floats) byYarn(l floats.LengthCount) string {
	var words []string
	for yarn, n := range l.ByYarn {
		if n > 0 {
			words = append(words, fmt.Sprintf("%s %d", a.yarn(yarn), n))
		}
	}
	return strings.Join(words, ", ")
}

func (a *Floats) drawn(p *prose, marks catchMarks) {
	p.heading(d.Words("The plan on the chart, one repeat"))
	g := draw.TextChart{Yarns: a.Chart.Yarns, Chars: 1}
	for i := range a.Fabric.Rows {
		r := &a.Fabric.Rows[i]
		g.Rows = append(g.Rows, draw.TextRow{Course: r.Course, Symbols: a.Chart.Rows[r.ChartRow-1], Caught: marks.common[i]})
	}
	if len(a.Plan.Catches) > 0 {
		where := "on the stitch above it"
		if a.Plan.Method == floats.Twist {
			where = "just before the stitch above it"
		}
		g.Key = fmt.Sprintf("a catch, %s. Numbers of columns count from the right.", where)
	}
	p.add(d.Letters{Drawing: g})
	var otherwise []d.Text
	for i, words := range marks.others {
		if len(words) > 0 {
			otherwise = append(otherwise, d.Words(fmt.Sprintf("%s %d, otherwise: %s.", a.title, i+1, strings.Join(words, "; "))))
		}
	}
	p.some("", otherwise, func(left int) string { return fmt.Sprintf("And %s more; --json lists every catch.", a.rows(left)) })
}

func (a *Floats) stacks(p *prose) {
	if a.Survey.Near > 0 || len(a.Reliefs) > 0 {
		p.heading(d.Words("Where catches stack"))
	}
	p.some("", mapped(a.Reliefs, func(r floats.Relief) d.Text {
		times := ""
		if r.Count > 1 {
			times = fmt.Sprintf(" in %d repeats", r.Count)
		}
		return d.Words(fmt.Sprintf("%ss %d and %d, column %d%s: %s above %s. %s",
			a.title, r.Row, r.Row+1, r.Column, times, a.yarn(r.Upper), a.yarn(r.Lower), a.reliefWords(r)))
	}), func(left int) string { return fmt.Sprintf("And at %s more.", d.Counted(left, "place")) })
	if n := a.Survey.Near; n > 0 {
		p.item("%s of catches %s in neighboring columns of neighboring %ss; the plan keeps them few.", d.Counted(n, "pair"), map[bool]string{true: "stands", false: "stand"}[n == 1], a.row)
	}
}

func (a *Floats) reliefWords(r floats.Relief) string {
	lead := "No way was found to keep these two " + a.row + "s apart."
	switch {
	case r.Spare:
		lead = "A spare catch would keep these two apart, but the " + a.row + "s around them pull the other way."
	case r.RowsAlone:
		lead = "By themselves these two could be kept apart, but the " + a.row + "s around them pull the other way."
	}
	var ways []string
	if r.Limit > 0 {
		ways = append(ways, fmt.Sprintf("a limit of %d", r.Limit))
	}
	if s := r.Stitch; s != nil {
		ways = append(ways, fmt.Sprintf("one stitch of %s in column %d of %s %d", a.yarn(s.Yarn), s.Column, a.row, s.Row+1))
	}
	if len(ways) == 0 {
		return lead + " Another motif there is the way out."
	}
	return lead + " What avoids it, tried: " + strings.Join(ways, ", or ") + "."
}

// crowded also tells where each yarn is caught: the marks on the chart do not say which is meant.
func (a *Floats) crowded(p *prose, marks catchMarks) {
	if len(a.Survey.Crowded) == 0 {
		return
	}
	p.rows(a.title+"s of three yarns or more", a.Survey.Crowded)
	for _, row := range a.Survey.Crowded[:min(rowsListed, len(a.Survey.Crowded))] {
		if words := marks.yarns[row-1]; len(words) > 0 {
			p.item("%s %d, caught: %s.", a.title, row, strings.Join(words, "; "))
		}
	}
	p.item("%s", hold.ThirdYarn)
}

func (a *Floats) overStart(p *prose) {
	if len(a.Survey.OverStart) == 0 {
		return
	}
	p.heading(d.Words("Too long over the start of the round, though neither piece is by itself"))
	lead := func(fl floats.Float) string {
		below := a.Fabric.Rows[fl.Row].Stitches() - fl.Stitch + 1
		return fmt.Sprintf("%s behind %s, %d and %d, from these rounds to the next:", a.yarn(fl.Yarn), stitches(fl.Length), below, fl.Length-below)
	}
	for _, alike := range session.Gathered(a.Survey.OverStart, lead) {
		p.list(lead(alike[0]), session.Ranges(mapped(alike, func(fl floats.Float) int { return fl.Row + 1 })))
	}
}

func (a *Floats) rests(p *prose) {
	p.some("Yarns at rest", mapped(a.Survey.Rests, func(r floats.Rest) d.Text {
		return d.Named(a.yarn(r.Yarn), fmt.Sprintf(" is not used in %s.%s", rowsFrom(a.row, r.FromRow+1, r.ToRow+1), restWords(r)))
	}), andMore)
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

func (a *Floats) otherWays(p *prose) {
	s := a.Survey
	if len(s.Ladders) == 0 && len(s.Spots) == 0 {
		return
	}
	p.heading(d.Words("Better worked another way"))
	if len(s.Ladders) > 0 {
		p.item("Floats far over the limit, above each other, for which a ladder of extra stitches at the back may serve better than many catches:")
	}
	p.some("", mapped(s.Ladders, func(l floats.Ladder) d.Text {
		return d.Words(fmt.Sprintf("%s: %s, up to %s", rowsFrom(a.row, l.From+1, l.To+1), a.yarn(l.Yarn), stitches(l.Longest)))
	}), andMore)
	if len(s.Spots) > 0 {
		p.item("Lone spots, which duplicate stitch (Swiss darning in the UK) saves carrying for, when the piece is finished:")
	}
	p.some("", mapped(s.Spots, func(o floats.Spot) d.Text {
		return d.Words(fmt.Sprintf("%s, around column %d of the repeat: %s of %s", rowsFrom(a.row, o.From+1, o.To+1), o.Column, stitches(o.Stitches), a.yarn(o.Yarn)))
	}), andMore)
	p.aside("Far is %d times the limit and more: a choice of this program.", floats.Far)
}

// rowsFrom names rows, both in: "round 12", "rounds 12 and 13", "rounds 12 to 14".
func rowsFrom(word string, from, to int) string {
	switch to - from {
	case 0:
		return fmt.Sprintf("%s %d", word, from)
	case 1:
		return fmt.Sprintf("%ss %d and %d", word, from, to)
	}
	return fmt.Sprintf("%ss %d to %d", word, from, to)
}
