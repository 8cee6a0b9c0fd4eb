package session

import (
	"fmt"
	"slices"

	"strandwise/floats"
)

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
	from, to := p.PlaceOf(first.Row, first.Stitch), p.PlaceOf(last.Row, last.Stitch)
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
	g := alike[0]
	from, to := p.PlaceOf(g.From.Row, g.From.Stitch), p.PlaceOf(g.To.Row, g.To.Stitch)
	switch in := inRepeats(p.Row(g.From.Row).Course, p.beginIn(alike)); {
	case g.From.Row != g.To.Row || in == "":
		return p.StretchWords(g.From, g.To)
	case from.Block != to.Block:
		return p.PlaceWords(g.From.Row, g.From.Stitch) + " to " + p.PlaceWords(g.To.Row, g.To.Stitch)
	case len(alike) == 1 && from.Repeat != to.Repeat:
		text := fmt.Sprintf("repeat %d stitch %d to repeat %d stitch %d", from.Repeat, from.Stitch, to.Repeat, to.Stitch)
		if from.Block > 0 {
			text = fmt.Sprintf("block %d %s", from.Block, text)
		}
		return text
	default:
		return p.StretchWords(g.From, g.To) + " " + in
	}
}

func (p *Piece) beginIn(alike []Gap) []floats.Place {
	var repeats []floats.Place
	for _, g := range alike {
		repeats = append(repeats, p.PlaceOf(g.From.Row, g.From.Stitch))
	}
	slices.SortFunc(repeats, func(a, b floats.Place) int { return a.Repeat - b.Repeat })
	return repeats
}

// gather puts gaps together that are alike in the repeats of a row, in the order of their first; over the
// start of the round each stays by itself.
func (p *Piece) gather(gaps []Gap) [][]Gap {
	type alike struct {
		row, length, yarn, over int
		from, to                floats.Place // the repeat of to as seen from that of from
	}
	var all [][]Gap
	index := map[alike]int{}
	for i, g := range gaps {
		key := alike{row: g.From.Row, length: g.Stitches, yarn: g.Yarn, from: p.PlaceOf(g.From.Row, g.From.Stitch), to: p.PlaceOf(g.To.Row, g.To.Stitch)}
		if key.to.Repeat -= key.from.Repeat; key.to.Block != key.from.Block {
			key.to.Repeat = 0
		}
		if key.from.Repeat = 0; g.From.Row != g.To.Row {
			key.over = i + 1
		}
		at, known := index[key]
		if !known {
			at, index[key] = len(all), len(all)
			all = append(all, nil)
		}
		all[at] = append(all[at], g)
	}
	return all
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
		text := fmt.Sprintf("%s passes %s uncaught (limit %d), ", p.yarnName(g.Yarn), plural(g.Stitches, "stitch"), g.Limit)
		if g.From.Row < row {
			text += fmt.Sprintf("%s %d, ", p.rowWord(), g.From.Row)
		}
		lines = append(lines, text+p.whereAll(alike))
	}
	return lines
}
