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

// place is that of a mark in the row.
func (g *grouping) place(m Mark) Place { return placeIn(m.Stitch, g.width) }

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
	for _, m := range c.Moved {
		g.add(g.place(m.From).Repeat, fmt.Sprintf("catch %s %s", letterOf(letters, m.From, g.width), m.words()))
	}
	for _, m := range c.Missed {
		g.add(g.place(m).Repeat, fmt.Sprintf("catch %s missed", letterOf(letters, m, g.width)))
	}
	for _, m := range c.Extra {
		g.add(g.place(m).Repeat, fmt.Sprintf("extra catch of %s on stitch %d", yarn(m.Yarn), g.place(m).Stitch))
	}
}
