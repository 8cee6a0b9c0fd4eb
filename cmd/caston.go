package cmd

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
)

// castOnOptions are the flags of cast-on.
type castOnOptions struct {
	trial // but for its method, repeats and times
	grip  gripFlags

	mirrorGiven func() bool
}

func newCastOn(a *frame.App) *cobra.Command {
	o := &castOnOptions{trial: *newTrial()}
	c := a.Leaf(frame.Spec{
		Use:   "cast-on NAME PART...",
		Short: "begin a piece from chart files",
		Long: "Begins a piece: lays its parts out row by row, plans where every long float is to be caught, and makes it the current piece.\n\n" +
			"Parts are worked in the order given. A part is a chart file, with how often it stands in a round and how often it is worked upward: band.chart@12 or band.chart@12x2. A symbol and a number are plain rows of that yarn: x:10. Yarns are matched across parts by symbol.\n\n" +
			"The limit is the longest stretch a yarn may pass uncaught. Without --limit it comes from the gauge by the knitters' rule of about an inch; --item asks for less where fingers or toes may catch in a strand. Those lengths are this program's choice, not a standard.",
		British: "In the UK gauge is called tension.",
		Examples: []string{
			"strandwise cast-on lantern-hat example:lantern-band@4 --gauge 20x22/4in",
			"strandwise cast-on trial-cowl x:3 example:lantern-band@5 x:3 --limit 2cm --gauge 22x24/10cm --hold left-one-finger",
			"strandwise cast-on trial-panel example:pier-panel --flat --limit 5",
		},
		Least: 2, Most: frame.AnyNumber, Writes: true, JSON: true,
	}, func(ctx context.Context, args []string) error { return runCastOn(ctx, a, o, args[0], args[1:]) })
	set := c.Flags()
	o.addSize(set)
	o.grip.add(set)
	set.BoolVar(&o.mirror, "mirror", false, "you work from the right needle to the left (default: the setting, else no)")
	set.IntVar(&o.rest, "rest", o.rest, "`ROWS` a yarn may rest without being cut")
	o.mirrorGiven = func() bool { return set.Changed("mirror") }
	return c
}

func runCastOn(ctx context.Context, a *frame.App, o *castOnOptions, name string, words []string) error {
	parts, err := stored.ReadParts(a, ctx, words)
	if err != nil {
		return err
	}
	event, from, err := o.event(a, name, parts)
	if err != nil {
		return err
	}
	lower, err := lowerFor(a, ctx, o.grip.lower, event.Grip.Hands(event.Mirror))
	if err != nil {
		return err
	}
	var more []session.Event
	if lower != nil {
		more = append(more, lower)
	}
	begun, err := stored.CastOn(a, ctx, event, parts, more)
	if err != nil {
		return err
	}
	if a.Flags.JSON {
		return a.AnswerJSON(1, castOnBody(begun, from))
	}
	tellCastOn(a, begun, from, parts)
	return nil
}

// event makes the cast-on of the flags, and says where its limit comes from.
func (o *castOnOptions) event(a *frame.App, name string, parts []stored.Part) (e *session.CastOn, from string, err error) {
	if o.rest < 0 || o.rest > trialMost {
		return nil, "", frame.Usage("--rest takes a whole number from 0 to %d, not %d", trialMost, o.rest).Hint("--rest %d", floats.DefaultRestLimit)
	}
	l := &laid{}
	l.item, _ = floats.ItemNamed(o.item)
	if err := o.settleLimit(l); err != nil {
		return nil, "", err
	}
	e = &session.CastOn{Name: name, Parts: stored.Refs(parts), Gauge: l.gauge.String(), Limit: l.task.Limit, Flat: o.flat, Mirror: o.mirror, RestLimit: o.rest}
	if e.Item, err = session.ParseItem(o.item); err != nil {
		return nil, "", err
	}
	if !o.mirrorGiven() {
		if e.Mirror, err = a.Settings.Yes("mirror"); err != nil {
			return nil, "", err
		}
	}
	if e.Grip, err = gripFor(a, &o.grip, parts); err != nil {
		return nil, "", err
	}
	return e, l.from, (&session.State{}).Check(e)
}

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

func castOnBody(p *stored.Piece, from string) castOnAnswer {
	s, f := p.State.Setup, p.Layout.Fabric
	catches, rows := p.Caught()
	return castOnAnswer{
		Piece: s.Name, Rows: p.Rows(), Round: !s.Flat,
		StitchesFirst: f.Rows[0].Stitches(), StitchesLast: f.Rows[len(f.Rows)-1].Stitches(),
		Gauge: s.Gauge, Limit: s.Limit, LimitFrom: from, Item: s.Item.String(),
		Hold: s.Hold, Carry: s.Carry, Method: s.Method, Dominant: s.Dominant, Mirror: s.Mirror,
		Recommended: advice(s.Grip).Method.String(), Catches: catches, CaughtRows: rows,
		LongestFloat: longestFloat(f, s.RestLimit),
		Score:        p.Schedule.Score, Bound: p.Schedule.Bound, Gap: planGap(p.Schedule), Proven: p.Schedule.Proven(),
		Cautions: append(append([]string{}, s.Item.Cautions()...), session.HandCautions...),
		Advice:   beginningAdvice(p),
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
func tellCastOn(a *frame.App, p *stored.Piece, from string, parts []stored.Part) {
	if !a.Display().Quiet {
		tellBegun(a, p, from)
	}
	tellCharts(a, parts, p.Layout.Fabric.Yarns)
	for _, text := range append(append([]string{}, p.State.Setup.Item.Cautions()...), session.HandCautions...) {
		a.Tell("%s", text)
	}
	a.Say("", "next: strandwise show")
}

// tellBegun prints the size of a new piece, its limit, hold and plan.
func tellBegun(a *frame.App, p *stored.Piece, from string) {
	s, f := p.State.Setup, p.Layout.Fabric
	a.Tell("%s is cast on%s: %s of %s", s.Name, switched(p), frame.Counted(p.Rows(), p.RowWord()), stitchRange(f))
	a.Tell("Limit: %s, %s", stitches(s.Limit), from)
	a.Tell("Hold: %s, %s carry, caught by %s%s", s.Hold, s.Carry, session.Catching(s.Method), dominantWords(s, f.Yarns))
	tellPlan(a, p)
	tellAdvice(a, s)
	for _, text := range beginningAdvice(p) {
		a.Tell("%s", text)
	}
}

// switched says that a new piece took the place of another as the current one.
func switched(p *stored.Piece) string {
	if p.FirstEver {
		return ""
	}
	return " and is now the current piece"
}

// What is said at a cast-on. Common practice.
const (
	jogAdvice   = "A round begins one step above the last, so the pattern jogs there: let it begin where that shows least."
	firstAdvice = "Your first piece here: knit a little of example:practice and try both a weave and a twist before you choose."
)

// beginningAdvice is what to know before the first row.
func beginningAdvice(p *stored.Piece) []string {
	var advice []string
	if p.Round() {
		advice = append(advice, jogAdvice)
	}
	if p.FirstEver {
		advice = append(advice, firstAdvice)
	}
	return advice
}

// justCastOn reports whether nothing was logged since the cast-on.
func justCastOn(p *stored.Piece) bool {
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
	return frame.Counted(n, "stitch")
}

func tellPlan(a *frame.App, p *stored.Piece) {
	catches, rows := p.Caught()
	longest := longestFloat(p.Layout.Fabric, p.State.Setup.RestLimit)
	if catches == 0 {
		a.Tell("Catches: none; the longest float is %s", stitches(longest))
		return
	}
	better := "No better plan exists"
	if gap := planGap(p.Schedule); gap > 0 {
		better = fmt.Sprintf("The plan is within %d.%02d%% of the best", gap/100, gap%100)
	}
	a.Tell("Catches: %d in %s; the longest float is %s. %s", catches, frame.Counted(rows, p.RowWord()), stitches(longest), better)
}

// tellAdvice names the method that goes with the hold where another was chosen, and
// says what is not certain about dominance.
func tellAdvice(a *frame.App, s session.CastOn) {
	if best := advice(s.Grip); best.Method.String() != s.Method {
		a.Tell("For this hold a %s goes better: %s Change it with strandwise hold --method %s", best.Method, best.Reason, best.Method)
	}
	if d := s.Grip.Hands(s.Mirror).Dominant(); d.Advice != "" {
		a.Tell("Dominance: %s", d.Advice)
	}
	if s.Mirror {
		a.Tell("%s", hold.MirrorHolds)
	}
}

// tellCharts warns of counts that do not follow and of yarns hard to tell apart.
func tellCharts(a *frame.App, parts []stored.Part, yarns []chart.Yarn) {
	seen := map[[32]byte]bool{}
	for _, p := range parts {
		if p.Chart == nil || seen[p.Ref.Hash] {
			continue
		}
		seen[p.Ref.Hash] = true
		for _, w := range p.Chart.Warnings() {
			a.Tell("%s: %s", p.Ref.Name, w)
		}
		for _, pair := range p.Chart.Pairs() {
			one, two := p.Chart.Yarns[pair.A].Name, p.Chart.Yarns[pair.B].Name
			switch {
			case pair.TooAlike():
				a.Tell("%s: %s and %s are so alike that the pattern may not show", p.Ref.Name, one, two)
			case pair.Muddy():
				a.Tell("%s: %s and %s are alike in lightness: from some steps away the pattern may be lost", p.Ref.Name, one, two)
			}
		}
	}
	tellCollisions(a, yarns)
}

// tellCollisions names yarns that this terminal shows in one color.
func tellCollisions(a *frame.App, yarns []chart.Yarn) {
	colors := make([]chart.Color, len(yarns))
	for i, y := range yarns {
		colors[i] = y.Color
	}
	var pairs []string
	for _, p := range a.Display().Paint.Collide(colors) {
		pairs = append(pairs, yarns[p[0]].Name+" and "+yarns[p[1]].Name)
	}
	if len(pairs) > 0 {
		a.Tell("On this terminal these look the same: %s. Go by the symbols.", strings.Join(pairs, "; "))
	}
}
