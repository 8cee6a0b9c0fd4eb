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

// fates tells each change of the catches of a row, those alike in several repeats together.
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

// placeWords tells a stitch of a row, as Piece.PlaceWords does.
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
