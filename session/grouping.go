package session

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/floats"
)

// grouping gathers what is said alike of several repeats of a row, in the order of the first of each.
type grouping struct {
	row   *floats.Course
	order []string
	in    map[string][]floats.Place // repeats, by block
}

func newGrouping(row *floats.Course) *grouping {
	return &grouping{row: row, in: map[string][]floats.Place{}}
}

// add adds a line about the repeat of a stitch, from 1. A comma at its end stands before repeats only.
func (g *grouping) add(stitch int, text string) {
	at := g.row.PlaceOf(stitch)
	at.Stitch = 0
	if g.in[text] == nil {
		g.order = append(g.order, text)
	}
	if !slices.Contains(g.in[text], at) {
		g.in[text] = append(g.in[text], at)
	}
}

func (g *grouping) lines() []string {
	lines := make([]string, len(g.order))
	for i, text := range g.order {
		if in := inRepeats(g.row, g.in[text]); in != "" {
			lines[i] = text + " " + in
		} else {
			lines[i] = strings.TrimSuffix(text, ",")
		}
	}
	return lines
}

// inRepeats names repeats of a row: "in every repeat", "in repeats 1 and 3"; with blocks "in
// block 1 and in every repeat of block 2". It is empty where there is but one.
func inRepeats(row *floats.Course, repeats []floats.Place) string {
	if len(repeats) == 0 || row.Repeats() == 1 {
		return ""
	}
	var words []string
	for _, b := range row.Blocks {
		var in []int
		for _, at := range repeats {
			if at.Block == b.Number || at.Block == 0 {
				in = append(in, at.Repeat)
			}
		}
		switch {
		case len(in) == 0:
		case len(row.Blocks) > 1 && b.Repeats == 1:
			words = append(words, fmt.Sprintf("in block %d", b.Number))
		case len(in) == b.Repeats:
			words = append(words, "in every repeat"+ofBlock(row, &b))
		default:
			words = append(words, "in "+repeatWords(in)+ofBlock(row, &b))
		}
	}
	return Listed(words, "and")
}

// ofBlock is " of block 2" in rows of several blocks.
func ofBlock(row *floats.Course, b *floats.Block) string {
	if len(row.Blocks) == 1 {
		return ""
	}
	return fmt.Sprintf(" of block %d", b.Number)
}

// repeatWords names repeats: "repeat 3", "repeats 1, 4 and 7 to 9".
func repeatWords(repeats []int) string {
	if len(repeats) == 1 {
		return fmt.Sprintf("repeat %d", repeats[0])
	}
	return "repeats " + Listed(Ranges(repeats), "and")
}

func (l lettering) fates(c Changes, yarn func(int) string) []string {
	g := newGrouping(l.in)
	for _, m := range c.Moved {
		g.add(m.From.Stitch, fmt.Sprintf("catch %s %s", l.ShownAs(m.From), m.words()))
	}
	for _, m := range c.Missed {
		g.add(m.Stitch, fmt.Sprintf("catch %s missed", l.ShownAs(m)))
	}
	for _, m := range c.Extra {
		g.add(m.Stitch, fmt.Sprintf("extra catch of %s on stitch %d", yarn(m.Yarn), l.in.PlaceOf(m.Stitch).Stitch))
	}
	return g.lines()
}

func placeWords(row *floats.Course, stitch int) string {
	at := row.PlaceOf(stitch)
	words := fmt.Sprintf("stitch %d", at.Stitch)
	if row.Block(at.Block).Repeats > 1 {
		words = fmt.Sprintf("repeat %d, %s", at.Repeat, words)
	}
	if at.Block > 0 {
		words = fmt.Sprintf("block %d, %s", at.Block, words)
	}
	return words
}

// A stretch of stitches is told by where it is in its repeat, so that stretches alike in
// several repeats can be told at once; one over the border of two repeats by both its ends.

// StitchFrom tells a stitch as seen from another of its row: "stitch 4", "stitch 5 of the next repeat".
func StitchFrom(from, to floats.Place) string {
	switch on := to.Repeat - from.Repeat; {
	case to.Block != from.Block:
		return fmt.Sprintf("stitch %d of block %d", to.Stitch, to.Block)
	case on == 0:
		return fmt.Sprintf("stitch %d", to.Stitch)
	case on == 1:
		return fmt.Sprintf("stitch %d of the next repeat", to.Stitch)
	default:
		return fmt.Sprintf("stitch %d, %d repeats on", to.Stitch, on)
	}
}

// FoldRepeats tells of stitches of a row, once what is alike in several repeats: "... in every repeat".
func (p *Piece) FoldRepeats(row int, tell func(add func(stitch int, text string))) []string {
	g := newGrouping(p.Row(row).Course)
	tell(g.add)
	return g.lines()
}

// StretchWords tells stitches, both ends in, as it is in its repeat: "stitches 7 to 15", "stitch 20
// to stitch 5 of the next repeat"; over the start of the round by itself.
func (p *Piece) StretchWords(first, last Spot) string {
	from, to := first.Place, last.Place
	switch {
	case first.Row != last.Row:
		return fmt.Sprintf("%s to %s %d, %s", p.PlaceWords(first.Row, first.Stitch), p.rowWord(), last.Row, p.PlaceWords(last.Row, last.Stitch))
	case from == to:
		return fmt.Sprintf("stitch %d", from.Stitch)
	case from.Repeat == to.Repeat && from.Block == to.Block:
		return fmt.Sprintf("stitches %d to %d", from.Stitch, to.Stitch)
	}
	return fmt.Sprintf("stitch %d to %s", from.Stitch, StitchFrom(from, to))
}

// whereAll tells gaps of one row that are alike in the repeats in which they begin.
func (p *Piece) whereAll(alike []Gap) string {
	begin := mapped(alike, func(g Gap) floats.Place { return g.From.Place })
	slices.SortFunc(begin, func(a, b floats.Place) int { return a.Repeat - b.Repeat })
	first, last := alike[0].From, alike[0].To
	from, to := first.Place, last.Place
	switch in := inRepeats(p.Row(first.Row).Course, begin); {
	case first.Row != last.Row || in == "":
		return p.StretchWords(first, last)
	case from.Block != to.Block:
		return p.PlaceWords(first.Row, first.Stitch) + " to " + p.PlaceWords(last.Row, last.Stitch)
	case len(alike) == 1 && from.Repeat != to.Repeat:
		text := fmt.Sprintf("repeat %d stitch %d to repeat %d stitch %d", from.Repeat, from.Stitch, to.Repeat, to.Stitch)
		if from.Block > 0 {
			text = fmt.Sprintf("block %d %s", from.Block, text)
		}
		return text
	default:
		return p.StretchWords(first, last) + " " + in
	}
}

// gather puts gaps together that are told alike in the repeats of a row. Over the start of the round each stays by
// itself: it is told with its repeats, and a yarn runs over it once.
func (p *Piece) gather(gaps []Gap) [][]Gap {
	return Gathered(gaps, func(g Gap) string {
		return fmt.Sprint(g.From.Row, g.Yarn.Index, g.Stitches, g.From.Block, p.StretchWords(g.From, g.To))
	})
}

// Fates tells what these changes made of the catches of a row, a line each,
// those alike in several repeats together: "catch a 1 stitch later in every repeat".
func (p *Piece) Fates(row int, c Changes) []string { return p.rowShown(row).fates(c, p.yarnName) }

// GapWords tells of gaps that a row has closed, those alike in several repeats together: "oat
// passes 9 stitches uncaught (limit 5), stitches 7 to 15 in every repeat".
func (p *Piece) GapWords(row int, gaps []Gap) []string {
	var lines []string
	for _, alike := range p.gather(gaps) {
		g := alike[0]
		text := fmt.Sprintf("%s passes %s uncaught (limit %d), ", g.Yarn.Name, plural(g.Stitches, "stitch"), g.Limit)
		if g.From.Row < row {
			text += fmt.Sprintf("%s %d, ", p.rowWord(), g.From.Row)
		}
		lines = append(lines, text+p.whereAll(alike))
	}
	return lines
}
