package answer

import (
	"fmt"
	"slices"

	"strandwise/chart"
	d "strandwise/cmd/document"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
)

// CastOn is the JSON of cast-on, schema 1. Bound is what no allowed plan scores
// less than; gap is how far the score may be above the best, in hundredths of a percent
// of the bound, rounded up; proven says that score and bound are equal.
type CastOn struct {
	Piece         string `json:"piece"`
	Rows          int    `json:"rows"`
	Round         bool   `json:"round"`
	StitchesFirst int    `json:"stitches_first"` // of row 1
	StitchesLast  int    `json:"stitches_last"`  // of the last row
	Gauge         string `json:"gauge"`          // as given; empty without one
	Limit         int    `json:"limit"`
	LimitFrom     string `json:"limit_from"`
	Item          string `json:"item"`
	session.Grip
	Mirror       bool     `json:"mirror"`
	Recommended  string   `json:"recommended"` // method for this hold
	Catches      int      `json:"catches"`
	CaughtRows   int      `json:"caught_rows"`
	LongestFloat int      `json:"longest_float"`
	Score        int      `json:"score"`
	Bound        int      `json:"bound"`
	Gap          int      `json:"gap"`
	Proven       bool     `json:"proven"`
	Cautions     []string `json:"cautions"`
	Advice       []string `json:"advice"` // on the start of the round, and for a first piece

	of   *session.Piece
	word string // what a row of it is called
	o    CastOnOptions
}

// CastOnOptions is what is told with a cast-on.
type CastOnOptions struct {
	LimitFrom string // where the limit comes from
	FirstEver bool   // no other piece was there
	SecondOf  string // the first of its pair; empty for a piece of its own
	Alike     string // yarns that the terminal shows alike; may be empty
}

// What is said at a cast-on. Common practice.
const (
	jogAdvice   = "A round begins one step above the last, so the pattern jogs there: let it begin where that shows least."
	firstAdvice = "Your first piece here: knit a little of example:practice and try both a weave and a twist before you choose."
)

// NewCastOn makes the answer of a piece that was begun.
func NewCastOn(p *session.Piece, o CastOnOptions) *CastOn {
	s, f, plan := p.State.Setup, p.Layout.Fabric, p.Schedule
	h := s.Grip.Hands(s.Mirror)
	a := &CastOn{
		Piece: s.Name, Rows: p.Rows(), Round: !s.Flat,
		StitchesFirst: f.Rows[0].Stitches(), StitchesLast: f.Rows[len(f.Rows)-1].Stitches(),
		Gauge: s.Gauge, Limit: s.Limit, LimitFrom: o.LimitFrom, Item: s.Item.String(),
		Grip: s.Grip, Mirror: s.Mirror,
		Recommended: hold.Recommend(h.Hold, h.Carry).Method.String(), Score: plan.Score, Bound: plan.Bound, Proven: plan.Proven(),
		Cautions: slices.Concat(s.Cautions(), session.HandCautions), of: p, word: session.RowWord(!s.Flat), o: o,
	}
	for _, fl := range f.Floats(s.RestLimit) {
		a.LongestFloat = max(a.LongestFloat, fl.Length)
	}
	for row := 1; row <= a.Rows; row++ {
		n := len(plan.Row(row))
		a.Catches, a.CaughtRows = a.Catches+n, a.CaughtRows+min(n, 1)
	}
	if plan.Bound > 0 {
		a.Gap = (10_000*(plan.Score-plan.Bound) + plan.Bound - 1) / plan.Bound
	}
	if a.Round {
		a.Advice = append(a.Advice, jogAdvice)
	}
	if o.FirstEver {
		a.Advice = append(a.Advice, firstAdvice)
	}
	return a
}

// Document tells what was begun; warnings and cautions even where a quiet answer is wanted.
func (a *CastOn) Document() d.Document {
	p := &prose{}
	if a.o.SecondOf != "" {
		a.second(p)
	} else {
		a.begun(p)
	}
	p.next("next: strandwise show")
	return p.document()
}

func (a *CastOn) second(p *prose) {
	how := map[bool]string{true: "with its charts turned left to right", false: "with the same charts"}[a.of.State.Setup.Mirrored]
	p.add(d.Act(d.Named(a.Piece, fmt.Sprintf(" is cast on as the second of %s, %s, and is now the current piece: %s", a.o.SecondOf, how, a.size()))))
	a.plan(p)
	p.eachItem(a.of.State.Setup.Cautions())
}

func (a *CastOn) begun(p *prose) {
	switched := map[bool]string{false: " and is now the current piece"}[a.o.FirstEver]
	p.add(d.Act(d.Named(a.Piece, fmt.Sprintf(" is cast on%s: %s", switched, a.size()))))
	p.add(d.Act(measured(fmt.Sprintf("Limit: %s, %s", stitches(a.Limit), a.LimitFrom), a.word)))
	dominant := ""
	if a.Hands(a.Mirror).Dominant().Known {
		dominant = fmt.Sprintf("; %s is dominant", dominantName(a.Grip, a.of.Layout.Fabric.Yarns))
	}
	p.act("Hold: %s, %s carry, caught by %s%s", a.Hold, a.Carry, session.Catching(a.Method), dominant)
	a.plan(p)
	a.advice(p)
	a.charts(p)
	p.eachItem(a.Cautions)
}

func (a *CastOn) size() string {
	size := d.Counted(a.Rows, a.word) + " of " + stitches(a.StitchesFirst)
	if a.StitchesFirst != a.StitchesLast {
		size += fmt.Sprintf(" at the start, %d at the end", a.StitchesLast)
	}
	counts := mapped(a.of.Layout.Fabric.Rows, func(r floats.Row) int { return r.Stitches() })
	switch most, least := slices.Max(counts), slices.Min(counts); {
	case most > max(a.StitchesFirst, a.StitchesLast):
		size += fmt.Sprintf(", %d at most", most)
	case least < min(a.StitchesFirst, a.StitchesLast):
		size += fmt.Sprintf(", %d at least", least)
	}
	return size
}

func (a *CastOn) plan(p *prose) {
	switch {
	case a.LongestFloat == 0:
		p.act("Catches: none; no yarn floats")
		return
	case a.Catches == 0:
		p.act("Catches: none; the longest float is %s", stitches(a.LongestFloat))
		return
	}
	better := "No better plan exists"
	if a.Gap > 0 {
		better = fmt.Sprintf("The plan is within %d.%02d%% of the best", a.Gap/100, a.Gap%100)
	}
	p.act("Catches: %d in %s; the longest float is %s. %s", a.Catches, d.Counted(a.CaughtRows, a.word), stitches(a.LongestFloat), better)
}

func (a *CastOn) advice(p *prose) {
	h := a.Hands(a.Mirror)
	if best := hold.Recommend(h.Hold, h.Carry); a.Recommended != a.Method {
		p.act("For this hold a %s goes better: %s Change it with strandwise hold --method %s", best.Method, best.Reason, best.Method)
	}
	if text := h.Dominant().Advice; text != "" {
		p.act("Dominance: %s", text)
	}
	if a.Mirror {
		p.act("%s", hold.MirrorHolds)
	}
	for _, text := range a.Advice {
		p.act("%s", text)
	}
}

func (a *CastOn) charts(p *prose) {
	seen := map[[32]byte]bool{}
	for _, b := range session.AllBlocks(a.of.Layout.Parts) {
		if b.HasChart() && !seen[b.Hash] {
			seen[b.Hash] = true
			a.chart(p, b.Name, a.of.Layout.Charts[b.Hash])
		}
	}
	if a.o.Alike != "" {
		p.item("%s", d.Sentence(a.o.Alike))
	}
}

func (a *CastOn) chart(p *prose, name string, c *chart.Chart) {
	for _, w := range c.Warnings() {
		p.named(name, ": %s", w)
	}
	for _, pair := range c.Pairs() {
		one, two := c.Yarns[pair.A].Name, c.Yarns[pair.B].Name
		switch {
		case pair.TooAlike():
			p.named(name, ": %s and %s are so alike that the pattern may not show", one, two)
		case pair.Muddy():
			p.named(name, ": %s and %s are alike in lightness: from some steps away the pattern may be lost", one, two)
		}
	}
}
