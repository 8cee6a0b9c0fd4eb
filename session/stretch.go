package session

import (
	"fmt"
	"slices"
)

// A stretch of stitches is told by where it is in its repeat, so that stretches alike in
// several repeats can be told at once; one over the border of two repeats by both its ends.

// stretch is stitches of one row or two, both ends in.
type stretch struct{ from, to Spot }

// StretchWords tells stitches of a row, both ends in, as they are in their repeat: "stitches 7
// to 15", "stitch 20 to stitch 5 of the next repeat".
func (p *Piece) StretchWords(row, first, last int) string {
	return p.where(stretch{Spot{row, first}, Spot{row, last}})
}

// StitchWords tells a stitch as it is seen from another of its row: "stitch 4", "stitch 5 of the
// next repeat".
func (p *Piece) StitchWords(row, from, stitch int) string {
	return stitchFrom(p.PlaceOf(row, from).Repeat, p.PlaceOf(row, stitch))
}

// stitchFrom tells a stitch as it is seen from a repeat.
func stitchFrom(repeat int, to Place) string {
	switch to.Repeat - repeat {
	case 0:
		return fmt.Sprintf("stitch %d", to.Stitch)
	case 1:
		return fmt.Sprintf("stitch %d of the next repeat", to.Stitch)
	}
	return fmt.Sprintf("stitch %d, %d repeats on", to.Stitch, to.Repeat-repeat)
}

// FoldRepeats gathers what is told of stitches of a row, and tells once what is alike in several
// repeats: "... in every repeat".
func (p *Piece) FoldRepeats(row int, tell func(add func(stitch int, text string))) []string {
	g := p.grouping(row)
	tell(func(stitch int, text string) { g.add(p.PlaceOf(row, stitch).Repeat, text) })
	return g.lines()
}

// where tells a stretch as it is in its repeat: "stitches 7 to 15", "stitch 20 to stitch 5 of
// the next repeat"; over the start of the round by itself.
func (p *Piece) where(s stretch) string {
	from, to := p.PlaceOf(s.from.Row, s.from.Stitch), p.PlaceOf(s.to.Row, s.to.Stitch)
	switch {
	case s.from.Row != s.to.Row:
		return fmt.Sprintf("%s to %s %d, %s", p.PlaceWords(s.from.Row, s.from.Stitch), p.rowWord(), s.to.Row, p.PlaceWords(s.to.Row, s.to.Stitch))
	case from == to:
		return fmt.Sprintf("stitch %d", from.Stitch)
	case from.Repeat == to.Repeat:
		return fmt.Sprintf("stitches %d to %d", from.Stitch, to.Stitch)
	}
	return fmt.Sprintf("stitch %d to %s", from.Stitch, stitchFrom(from.Repeat, to))
}

// whereAll tells stretches of one row that are alike in the repeats in which they begin.
func (p *Piece) whereAll(alike []stretch) string {
	s := alike[0]
	from, to := p.PlaceOf(s.from.Row, s.from.Stitch), p.PlaceOf(s.to.Row, s.to.Stitch)
	repeats := p.Row(s.from.Row).Repeats
	switch {
	case s.from.Row != s.to.Row || repeats == 1:
		return p.where(s)
	case len(alike) == repeats:
		return p.where(s) + " in every repeat"
	case len(alike) > 1:
		return p.where(s) + " in " + repeatWords(p.beginIn(alike))
	case from.Repeat != to.Repeat:
		return fmt.Sprintf("repeat %d stitch %d to repeat %d stitch %d", from.Repeat, from.Stitch, to.Repeat, to.Stitch)
	}
	return p.where(s) + fmt.Sprintf(" in repeat %d", from.Repeat)
}

// beginIn lists the repeats in which stretches begin.
func (p *Piece) beginIn(alike []stretch) []int {
	var repeats []int
	for _, s := range alike {
		repeats = append(repeats, p.PlaceOf(s.from.Row, s.from.Stitch).Repeat)
	}
	slices.Sort(repeats)
	return repeats
}

// alikeGaps is gaps of one yarn that are alike in several repeats of a row.
type alikeGaps struct {
	Gap // the first of them
	all []stretch
}

// gather puts gaps together that are of one yarn and row, as long, and on the same stitches of
// their repeats; over the start of the round each stays by itself. They come in the order of
// their first.
func (p *Piece) gather(gaps []Gap) []alikeGaps {
	type alike struct{ row, stitch, length, yarn int }
	var all []alikeGaps
	at := map[alike]int{}
	for _, g := range gaps {
		key := alike{g.From.Row, p.PlaceOf(g.From.Row, g.From.Stitch).Stitch, g.Stitches, g.Yarn}
		i, known := at[key]
		if !known || g.From.Row != g.To.Row {
			i = len(all)
			all = append(all, alikeGaps{Gap: g})
		}
		if g.From.Row == g.To.Row {
			at[key] = i
		}
		all[i].all = append(all[i].all, stretch{g.From, g.To})
	}
	return all
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

func (p *Piece) grouping(row int) *grouping {
	return newGrouping(p.Row(row).RepeatStitches(), p.Row(row).Repeats)
}
