package cmd

import (
	"fmt"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/render"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
)

// castOnAnswer is the JSON of cast-on, schema 1. Bound is what no allowed plan scores
// less than; gap is how far the score may be above the best, in hundredths of a percent
// of the bound, rounded up; proven says that score and bound are equal.
type castOnAnswer struct {
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
}

func castOnBody(p *storedPiece, from string) castOnAnswer {
	s, f := p.State.Setup, p.Layout.Fabric
	catches, rows := p.caught()
	return castOnAnswer{
		Piece: s.Name, Rows: p.Rows(), Round: !s.Flat,
		StitchesFirst: f.Rows[0].Stitches(), StitchesLast: f.Rows[len(f.Rows)-1].Stitches(),
		Gauge: s.Gauge, Limit: s.Limit, LimitFrom: from, Item: s.Item.String(),
		Hold: s.Hold, Carry: s.Carry, Method: s.Method, Dominant: s.Dominant, Mirror: s.Mirror,
		Recommended: advice(s.Grip).Method.String(), Catches: catches, CaughtRows: rows,
		LongestFloat: longestFloat(f, s.RestLimit),
		Score:        p.Schedule.Score, Bound: p.Schedule.Bound, Gap: planGap(p.Schedule), Proven: p.Schedule.Proven(),
		Cautions: append(append([]string{}, s.Item.Cautions()...), session.HandCautions...),
		Advice:   p.beginningAdvice(),
	}
}

func longestFloat(f *floats.Fabric, restLimit int) int {
	longest := 0
	for _, fl := range f.Floats(restLimit) {
		longest = max(longest, fl.Length)
	}
	return longest
}

// planGap is how far a score may be above the best, in hundredths of a percent of
// the bound, rounded up.
func planGap(s *session.Schedule) int {
	if s.Bound <= 0 {
		return 0
	}
	return (10_000*(s.Score-s.Bound) + s.Bound - 1) / s.Bound
}

func advice(g session.Grip) hold.Advice {
	h, c, err := holdAndCarry(g)
	if err != nil {
		return hold.Advice{}
	}
	return hold.Recommend(h, c)
}

// tellCastOn prints what was begun. Warnings and cautions are printed even where a quiet
// answer is wanted.
func (a *app) tellCastOn(p *storedPiece, from string, parts []partRead) {
	if !a.display.quiet {
		a.tellBegun(p, from)
	}
	a.tellCharts(parts, p.Layout.Fabric.Yarns)
	for _, text := range append(append([]string{}, p.State.Setup.Item.Cautions()...), session.HandCautions...) {
		a.tell("%s", text)
	}
	a.say("", "next: strandwise show")
}

// tellBegun prints the size of a new piece, its limit, hold and plan.
func (a *app) tellBegun(p *storedPiece, from string) {
	s, f := p.State.Setup, p.Layout.Fabric
	a.tell("%s is cast on: %s of %s", s.Name, counted(p.Rows(), p.rowWord()), stitchRange(f))
	a.tell("Limit: %s, %s", stitches(s.Limit), from)
	a.tell("Hold: %s, %s carry, caught by %s%s", s.Hold, s.Carry, s.Method, dominantWords(s, f.Yarns))
	a.tellPlan(p)
	a.tellAdvice(s)
	for _, text := range p.beginningAdvice() {
		a.tell("%s", text)
	}
}

// What is said at a cast-on. Common practice.
const (
	jogAdvice   = "A round begins one step above the last, so the pattern jogs there: let it begin where that shows least."
	firstAdvice = "Your first piece here: knit a little of examples/practice.chart and try both a weave and a twist before you choose."
)

// beginningAdvice is what to know before the first row.
func (p *storedPiece) beginningAdvice() []string {
	var advice []string
	if p.round() {
		advice = append(advice, jogAdvice)
	}
	if p.firstEver {
		advice = append(advice, firstAdvice)
	}
	return advice
}

// justCastOn reports whether nothing was logged since the cast-on.
func (p *storedPiece) justCastOn() bool {
	h := p.State.History()
	return h[len(h)-1].Seq == h[0].Seq
}

// dominantWords tells which yarn is dominant, for the end of a line; empty where no place
// is known to be.
func dominantWords(s session.CastOn, yarns []chart.Yarn) string {
	if !s.Grip.Hands(s.Mirror).Dominant().Known {
		return ""
	}
	return fmt.Sprintf("; %s is dominant", dominantName(s.Grip, yarns))
}

func stitchRange(f *floats.Fabric) string {
	first, last := f.Rows[0].Stitches(), f.Rows[len(f.Rows)-1].Stitches()
	if first == last {
		return stitches(first)
	}
	return fmt.Sprintf("%s at the start, %d at the end", stitches(first), last)
}

func stitches(n int) string {
	return counted(n, "stitch")
}

func (a *app) tellPlan(p *storedPiece) {
	catches, rows := p.caught()
	longest := longestFloat(p.Layout.Fabric, p.State.Setup.RestLimit)
	if catches == 0 {
		a.tell("Catches: none; the longest float is %s", stitches(longest))
		return
	}
	a.tell("Catches: %d in %s; the longest float is %s", catches, counted(rows, p.rowWord()), stitches(longest))
	if p.Schedule.Proven() {
		a.tell("Plan: score %d, and no allowed plan scores less", p.Schedule.Score)
		return
	}
	gap := planGap(p.Schedule)
	a.tell("Plan: score %d; none can score less than %d, so it is within %d.%02d%% of the best", p.Schedule.Score, p.Schedule.Bound, gap/100, gap%100)
}

// tellAdvice names the method that goes with the hold where another was chosen, and
// says what is not certain about dominance.
func (a *app) tellAdvice(s session.CastOn) {
	if best := advice(s.Grip); best.Method.String() != s.Method {
		a.tell("For this hold a %s goes better: %s Change it with strandwise hold --method %s", best.Method, best.Reason, best.Method)
	}
	if d := s.Grip.Hands(s.Mirror).Dominant(); d.Advice != "" {
		a.tell("Dominance: %s", d.Advice)
	}
	if s.Mirror {
		a.tell("%s", hold.MirrorHolds)
	}
}

// tellCharts warns of counts that do not follow and of yarns hard to tell apart.
func (a *app) tellCharts(parts []partRead, yarns []chart.Yarn) {
	seen := map[[32]byte]bool{}
	for _, p := range parts {
		if p.chart == nil || seen[p.ref.Hash] {
			continue
		}
		seen[p.ref.Hash] = true
		for _, w := range p.chart.Warnings() {
			a.tell("%s: %s", p.ref.Name, w)
		}
		for _, pair := range p.chart.Pairs() {
			one, two := p.chart.Yarns[pair.A].Name, p.chart.Yarns[pair.B].Name
			switch {
			case pair.TooAlike():
				a.tell("%s: %s and %s are so alike that the pattern may not show", p.ref.Name, one, two)
			case pair.Muddy():
				a.tell("%s: %s and %s are alike in lightness: from some steps away the pattern may be lost", p.ref.Name, one, two)
			}
		}
	}
	a.tellCollisions(yarns)
}

// tellCollisions names yarns that this terminal shows in one color.
func (a *app) tellCollisions(yarns []chart.Yarn) {
	colors := make([]chart.Color, len(yarns))
	for i, y := range yarns {
		colors[i] = y.Color
	}
	var pairs []string
	for _, p := range a.display.paint.Collide(colors) {
		pairs = append(pairs, yarns[p[0]].Name+" and "+yarns[p[1]].Name)
	}
	if len(pairs) > 0 {
		a.tell("On this terminal these look the same: %s. Go by the symbols.", strings.Join(pairs, "; "))
	}
}

// printSheet prints the sheet of a row.
func (a *app) printSheet(s *session.Sheet, o render.SheetOptions) error {
	return render.Sheet(a.out, s, a.look(), o)
}
