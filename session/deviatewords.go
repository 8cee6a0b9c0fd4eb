package session

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/floats"
)

// ChangeWords tells what was otherwise in a finished row, a line for each kind of
// change: "oat made on 16, planned on 15, in every repeat". Stitches count within the
// repeat.
func (p *Piece) ChangeWords(row int, c Changes) []string {
	g := p.grouping(row)
	for _, m := range c.Moved {
		g.add(m.From, fmt.Sprintf("%s made on %d, planned on %d", p.yarnName(m.To.Yarn), g.within(m.To.Stitch), g.within(m.From.Stitch)))
	}
	for _, m := range c.Missed {
		g.add(m, fmt.Sprintf("%s missed on %d", p.yarnName(m.Yarn), g.within(m.Stitch)))
	}
	for _, m := range c.Extra {
		g.add(m, fmt.Sprintf("%s made on %d beside the plan", p.yarnName(m.Yarn), g.within(m.Stitch)))
	}
	return g.lines()
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

// GapWords tells of gaps of one row, those alike in several repeats together: "oat
// passes 9 stitches uncaught (limit 5), stitches 7 to 15, in every repeat".
func (p *Piece) GapWords(row int, gaps []Gap) []string {
	g := p.grouping(row)
	for _, gap := range gaps {
		text := fmt.Sprintf("%s passes %s uncaught (limit %d)", p.yarnName(gap.Yarn), plural(gap.Stitches, "stitch"), gap.Limit)
		switch {
		case gap.From.Row != gap.To.Row:
			g.whole(text + ", over the start of the round")
			continue
		case gap.From.Row < row:
			g.whole(fmt.Sprintf("%s, at the end of %s %d", text, p.rowWord(), gap.From.Row))
			continue
		}
		g.add(Mark{gap.From.Stitch, gap.Yarn}, fmt.Sprintf("%s, stitches %d to %d", text, g.within(gap.From.Stitch), g.within(gap.To.Stitch)))
	}
	return g.lines()
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
	r := p.Row(row)
	return &grouping{width: r.RepeatStitches(), repeats: r.Repeats, in: map[string][]int{}}
}

// within counts a stitch of the row in its repeat.
func (g *grouping) within(stitch int) int { return (stitch-1)%g.width + 1 }

func (g *grouping) add(m Mark, text string) {
	if !slices.Contains(g.order, text) {
		g.order = append(g.order, text)
	}
	if rep := (m.Stitch-1)/g.width + 1; !slices.Contains(g.in[text], rep) {
		g.in[text] = append(g.in[text], rep)
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
		lines[i] = text
		switch reps := g.in[text]; {
		case len(reps) == 0 || g.repeats == 1:
		case len(reps) == g.repeats:
			lines[i] += ", in every repeat"
		case len(reps) == 1:
			lines[i] += fmt.Sprintf(", in repeat %d", reps[0])
		default:
			lines[i] += ", in repeats " + numbers(reps, "and")
		}
	}
	return lines
}

// numbers joins numbers as a sentence does: 1, 3 and 4.
func numbers(list []int, last string) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = fmt.Sprint(n)
	}
	return listWords(words, last)
}

// listWords joins words as a sentence does, the last with its own word.
func listWords(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	end := len(words) - 1
	return strings.Join(words[:end], ", ") + " " + last + " " + words[end]
}
