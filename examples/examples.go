// Package examples holds charts drawn for this project, to try the program on. They
// share one invented scenario, a harbor at dusk.
package examples

import (
	"embed"
	"slices"
)

// Files are the charts, by file name.
//
//go:embed *.chart
var Files embed.FS

// Example is a chart and a piece to knit from it.
type Example struct {
	Name  string   // of the piece, in the words of a command line
	File  string   // in Files
	About string   // one line, no stop at the end
	Args  []string // what follows cast-on NAME: the part, then options
}

// Practice is the chart to try a motion on.
const Practice = "practice.chart"

var list = []Example{
	{
		Name: "lantern-hat", File: "lantern-band.chart",
		About: "a hat band of lanterns above the swell, floats of 7 to 11 stitches",
		Args:  []string{"lantern-band.chart@4", "--gauge", "20x22/4in"},
	},
	{
		Name: "mooring-mitten", File: "mooring-mitten.chart",
		About: "the hand of a mitten, with floats that are too long only over the start of the round",
		Args:  []string{"mooring-mitten.chart", "--gauge", "20x22/4in", "--item", "hands-feet", "--limit", "5"},
	},
	{
		Name: "tide-yoke", File: "tide-yoke.chart",
		About: "a yoke of 60 rounds in three yarns, with three decrease rounds and a background that changes",
		Args:  []string{"tide-yoke.chart@20", "--gauge", "24x28/4in"},
	},
	{
		Name: "pier-panel", File: "pier-panel.chart",
		About: "a flat panel in which yarns rest for odd and even numbers of rows",
		Args:  []string{"pier-panel.chart", "--flat", "--gauge", "20x22/4in"},
	},
	{
		Name: "night-sea", File: "night-sea.chart",
		About: "compass roses in a lattice of swell, 48 columns and 48 rows, all over",
		Args:  []string{"night-sea.chart@4x2", "--gauge", "24x26/4in"},
	},
	{
		Name: "practice", File: Practice,
		About: "four rows with spans of 7 and 9 stitches to try a catch on",
		Args:  []string{"practice.chart@3", "--limit", "5"},
	},
}

// List returns every example, the usual first choice first.
func List() []Example {
	copies := slices.Clone(list)
	for i := range copies {
		copies[i].Args = slices.Clone(copies[i].Args)
	}
	return copies
}
