package session

import (
	"fmt"
	"slices"
	"strings"
)

// grouping gathers lines that are alike in several repeats of a row.
type grouping struct {
	width, repeats int
	order          []string
	in             map[string][]int // repeats, from 1; empty for the whole row
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

// repeatWords names repeats: "repeat 3", "repeats 1, 4 and 7 to 9".
func repeatWords(repeats []int) string {
	if len(repeats) == 1 {
		return fmt.Sprintf("repeat %d", repeats[0])
	}
	return "repeats " + Listed(Ranges(repeats), "and")
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
