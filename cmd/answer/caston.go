package answer

import (
	"fmt"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"

	d "strandwise/cmd/document"
)

// CastOn is the JSON of cast-on, schema 1. Bound is what no allowed plan scores
// less than; gap is how far the score may be above the best, in hundredths of a percent
// of the bound, rounded up; proven says that score and bound are equal.
type CastOn struct {
	Piece         string   `json:"piece"`
	Rows          int      `json:"rows"`
	Round         bool     `json:"round"`
	StitchesFirst int      `json:"stitches_first"` // of row 1
	StitchesLast  int      `json:"stitches_last"`  // of the last row
	Gauge         string   `json:"gauge"`          // as given; empty without one
	Limit         int      `json:"limit"`
	LimitFrom     string   `json:"limit_from"`
	Item          string   `json:"item"`
	Hold          string   `json:"hold"`
	Carry         string   `json:"carry"`
	Method        string   `json:"method"`
	Dominant      string   `json:"dominant"` // pattern, background or a symbol
	Mirror        bool     `json:"mirror"`
	Recommended   string   `json:"recommended"` // method for this hold
	Catches       int      `json:"catches"`
	CaughtRows    int      `json:"caught_rows"`
	LongestFloat  int      `json:"longest_float"`
	Score         int      `json:"score"`
	Bound         int      `json:"bound"`
	Gap           int      `json:"gap"`
	Proven        bool     `json:"proven"`
	Cautions      []string `json:"cautions"`
	Advice        []string `json:"advice"` // on the start of the round, and for a first piece

	of *session.Piece
	o  CastOnOptions
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
		Hold: s.Hold, Carry: s.Carry, Method: s.Method, Dominant: s.Dominant, Mirror: s.Mirror,
		Recommended: hold.Recommend(h.Hold, h.Carry).Method.String(), Score: plan.Score, Bound: plan.Bound, Proven: plan.Proven(),
		Cautions: slices.Concat(s.Cautions(), session.HandCautions), of: p, o: o,
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

// Document tells what was begun. Warnings and cautions are told even where a quiet answer is
// wanted.
func (a *CastOn) Document() d.Document {
	p := &castOnProse{CastOn: a, word: session.RowWord(a.Round), setup: a.of.State.Setup}
	if a.o.SecondOf != "" {
		p.second()
	} else {
		p.begun()
	}
	p.next("next: strandwise show")
	return p.document()
}

type castOnProse struct {
	prose
	*CastOn
	word  string
	setup session.CastOn
}

// second tells only what is not as in the first of the pair.
func (p *castOnProse) second() {
	how := "with the same charts"
	if p.setup.Mirrored {
		how = "with its charts turned left to right"
	}
	p.add(d.Act(d.Named(p.Piece, fmt.Sprintf(" is cast on as the second of %s, %s, and is now the current piece: %s", p.o.SecondOf, how, p.size()))))
	p.plan()
	p.eachItem(p.setup.Cautions())
}

// begun tells the size of a new piece, its limit, hold and plan.
func (p *castOnProse) begun() {
	switched := " and is now the current piece"
	if p.o.FirstEver {
		switched = ""
	}
	p.add(d.Act(d.Named(p.Piece, fmt.Sprintf(" is cast on%s: %s", switched, p.size()))))
	p.add(d.Act(measured(fmt.Sprintf("Limit: %s, %s", stitches(p.Limit), p.LimitFrom), p.word)))
	dominant := ""
	if p.setup.Grip.Hands(p.Mirror).Dominant().Known {
		dominant = fmt.Sprintf("; %s is dominant", dominantName(p.setup.Grip, p.of.Layout.Fabric.Yarns))
	}
	p.act("Hold: %s, %s carry, caught by %s%s", p.Hold, p.Carry, session.Catching(p.Method), dominant)
	p.plan()
	p.advice()
	p.charts()
	p.eachItem(p.Cautions)
}

// size is rows and stitches.
func (p *castOnProse) size() string {
	size := d.Counted(p.Rows, p.word) + " of " + stitches(p.StitchesFirst)
	if p.StitchesFirst != p.StitchesLast {
		size += fmt.Sprintf(" at the start, %d at the end", p.StitchesLast)
	}
	counts := mapped(p.of.Layout.Fabric.Rows, func(r floats.Row) int { return r.Stitches() })
	switch most, least := slices.Max(counts), slices.Min(counts); {
	case most > max(p.StitchesFirst, p.StitchesLast):
		size += fmt.Sprintf(", %d at most", most)
	case least < min(p.StitchesFirst, p.StitchesLast):
		size += fmt.Sprintf(", %d at least", least)
	}
	return size
}

func (p *castOnProse) plan() {
	switch {
	case p.LongestFloat == 0:
		p.act("Catches: none; no yarn floats")
		return
	case p.Catches == 0:
		p.act("Catches: none; the longest float is %s", stitches(p.LongestFloat))
		return
	}
	better := "No better plan exists"
	if p.Gap > 0 {
		better = fmt.Sprintf("The plan is within %d.%02d%% of the best", p.Gap/100, p.Gap%100)
	}
	p.act("Catches: %d in %s; the longest float is %s. %s", p.Catches, d.Counted(p.CaughtRows, p.word), stitches(p.LongestFloat), better)
}

// advice names the method that goes with the hold where another was chosen, says what is not
// certain about dominance, and what to know before the first row.
func (p *castOnProse) advice() {
	h := p.setup.Grip.Hands(p.Mirror)
	if best := hold.Recommend(h.Hold, h.Carry); p.Recommended != p.Method {
		p.act("For this hold a %s goes better: %s Change it with strandwise hold --method %s", best.Method, best.Reason, best.Method)
	}
	if text := h.Dominant().Advice; text != "" {
		p.act("Dominance: %s", text)
	}
	if p.Mirror {
		p.act("%s", hold.MirrorHolds)
	}
	for _, text := range p.Advice {
		p.act("%s", text)
	}
}

// charts warns of counts that do not follow and of yarns hard to tell apart.
func (p *castOnProse) charts() {
	seen := map[[32]byte]bool{}
	for _, b := range session.AllBlocks(p.of.Layout.Parts) {
		if b.HasChart() && !seen[b.Hash] {
			seen[b.Hash] = true
			p.chart(b.Name, p.of.Layout.Charts[b.Hash])
		}
	}
	if p.o.Alike != "" {
		p.item("%s", d.Sentence(p.o.Alike))
	}
}

// chart warns of one chart.
func (p *castOnProse) chart(name string, c *chart.Chart) {
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
