package session

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/floats"
)

// AsMade tells what was otherwise in a finished row as its runs were made, a line for runs
// alike in several repeats: "11 fjord (6, catch a, 4) in every repeat".
func (p *Piece) AsMade(row int) []string { return p.asMade(row, Phrase.Text) }

// AsMadeAloud is AsMade as it is heard.
func (p *Piece) AsMadeAloud(row int) []string {
	return p.asMade(row, func(run Phrase) string { return run.Aloud })
}

func (p *Piece) asMade(row int, tell func(Phrase) string) []string {
	changes := p.Changes(row)
	if !changes.Any() {
		return nil
	}
	s := &Sheet{Yarns: p.Layout.Fabric.Yarns, Order: p.Row(row).InOrder(), Letters: p.Letters(row)}
	g := p.grouping(row)
	for rep, catches := range p.catchesByRepeat(row) {
		s.Often = RepeatRuns{Catches: catches, Runs: p.runs(row, catches)}
		for i, phrase := range s.Phrases(s.Often.Runs) {
			if text, is := p.otherwiseIn(rep, s, &s.Often.Runs[i], tell(phrase), changes); is {
				g.add(rep+1, text)
			}
		}
	}
	return g.lines()
}

// otherwiseIn is a run of a repeat (from 0) with what was missed in it; is tells whether it was
// made otherwise at all.
func (p *Piece) otherwiseIn(rep int, s *Sheet, run *Run, told string, c Changes) (text string, is bool) {
	text = told
	width := len(s.Order)
	in := func(m Mark) bool {
		at := m.Stitch - rep*width
		return at >= run.From && at < run.From+run.Stitches
	}
	is = slices.ContainsFunc(c.come(), in)
	for _, m := range c.Missed {
		if in(m) {
			text, is = text+fmt.Sprintf(", catch %s missed", letterOf(s.Letters, m, width)), true
		}
	}
	return text, is
}

// Fates tells what became of the catches of a finished row otherwise than shown, a line each,
// those alike in several repeats together: "catch a 1 stitch later in every repeat".
func (p *Piece) Fates(row int) []string { return p.FatesOf(row, p.Changes(row)) }

// FatesOf is Fates of a row with these changes.
func (p *Piece) FatesOf(row int, c Changes) []string {
	g := p.grouping(row)
	g.addFates(p.Letters(row), c, p.yarnName)
	return g.lines()
}

// addFates adds a line for each change of the catches of a row with these letters.
func (g *grouping) addFates(letters []Lettered, c Changes, yarn func(int) string) {
	repeat := func(m Mark) int { return placeIn(m.Stitch, g.width).Repeat }
	for _, m := range c.Moved {
		by, way := m.To.Stitch-m.From.Stitch, "later"
		if by < 0 {
			by, way = -by, "earlier"
		}
		g.add(repeat(m.From), fmt.Sprintf("catch %s %s %s", letterOf(letters, m.From, g.width), plural(by, "stitch"), way))
	}
	for _, m := range c.Missed {
		g.add(repeat(m), fmt.Sprintf("catch %s missed", letterOf(letters, m, g.width)))
	}
	for _, m := range c.Extra {
		g.add(repeat(m), fmt.Sprintf("extra catch of %s on stitch %d", yarn(m.Yarn), placeIn(m.Stitch, g.width).Stitch))
	}
}

// namesOf names catches: "a (oat, stitch 6)".
func namesOf(letters []Lettered, yarn func(int) string) []string {
	names := make([]string, len(letters))
	for i, l := range letters {
		names[i] = fmt.Sprintf("%s (%s, stitch %d)", l.Letter, yarn(l.Yarn), l.Stitch)
	}
	return names
}

// LongGaps lists the gaps over the limit that a finished row closed: those of its own
// strands and of the strand over the start that ends in it.
func (p *Piece) LongGaps(row int) []Gap {
	// No strand of the row reaches further down than the row below.
	s := p.strander(row-1, row, func(r int) []Mark { return p.State.DoneRow(r).Used })
	var gaps []Gap
	for _, fl := range p.closedBy(row) {
		if !s.lies(fl) {
			continue
		}
		for _, g := range s.strand(fl).Gaps {
			if g.Over() > 0 {
				gaps = append(gaps, g)
			}
		}
	}
	s.measure(gaps)
	return gaps
}

// closedBy lists the floats that may end in a row: those with a stitch in it, and those
// that run from the row below right to its start.
func (p *Piece) closedBy(row int) []floats.Float {
	f, rest := p.Layout.Fabric, p.State.Setup.RestLimit
	var closed []floats.Float
	if row > 1 {
		n := p.Row(row - 1).Stitches()
		for _, fl := range f.RowFloats(row-2, rest) {
			if fl.Kind == floats.OverStart && fl.Row == row-2 && fl.Stitch+fl.Length-1 == n {
				closed = append(closed, fl)
			}
		}
	}
	return append(closed, f.RowFloats(row-1, rest)...)
}

// GapWords tells of gaps that a row has closed, those alike in several repeats together: "oat
// passes 9 stitches uncaught (limit 5), stitches 7 to 15 in every repeat".
func (p *Piece) GapWords(row int, gaps []Gap) []string {
	var lines []string
	for _, g := range p.gather(gaps) {
		text := fmt.Sprintf("%s passes %s uncaught (limit %d), ", p.yarnName(g.Yarn), plural(g.Stitches, "stitch"), g.Limit)
		if g.From.Row < row {
			text += fmt.Sprintf("%s %d, ", p.rowWord(), g.From.Row)
		}
		lines = append(lines, text+p.whereAll(g.all))
	}
	return lines
}

// Mended says what can be done about a gap over the limit.
func (p *Piece) Mended() string {
	return fmt.Sprintf("Lift the strand with the stitch above it on the next %s, or tack it down when finishing; the review lists it.", p.rowWord())
}

// grouping gathers lines that are alike in several repeats of a row.
type grouping struct {
	width, repeats int
	order          []string
	in             map[string][]int // repeats, from 1; empty for the whole row
}

func (p *Piece) grouping(row int) *grouping {
	return newGrouping(p.Row(row).RepeatStitches(), p.Row(row).Repeats)
}

func newGrouping(width, repeats int) *grouping {
	return &grouping{width: width, repeats: repeats, in: map[string][]int{}}
}

// within counts a stitch of the row in its repeat.
func (g *grouping) within(stitch int) int { return placeIn(stitch, g.width).Stitch }

// add adds a line about a repeat, from 1. A comma at its end stands before the repeats only.
func (g *grouping) add(repeat int, text string) {
	g.whole(text)
	if !slices.Contains(g.in[text], repeat) {
		g.in[text] = append(g.in[text], repeat)
	}
}

// whole adds a line that belongs to no repeat.
func (g *grouping) whole(text string) {
	if !slices.Contains(g.order, text) {
		g.order = append(g.order, text)
	}
}

func (g *grouping) lines() []string {
	lines := make([]string, len(g.order))
	for i, text := range g.order {
		switch reps := g.in[text]; {
		case len(reps) == 0 || g.repeats == 1:
			lines[i] = strings.TrimSuffix(text, ",")
		case len(reps) == g.repeats:
			lines[i] = text + " in every repeat"
		default:
			lines[i] = text + " in " + repeatWords(reps)
		}
	}
	return lines
}
