package floats

import (
	"math"

	"strandwise/chart"
)

// The score of a plan is a sum of these whole numbers over the whole piece; lower
// is better. They order what knitters weigh (common practice, no source); only
// their proportions matter.
const (
	weightCatch  = 60  // every catch is work and can show
	weightGap    = 40  // for a gap as long as the limit; shorter ones by their square
	weightShow   = 8   // show-through at a strong contrast: from memory, so it weighs little
	weightStack  = 100 // two catches in one column of adjacent rows make a ridge
	weightNear   = 30  // two catches in neighbouring columns of adjacent rows
	weightTwice  = 100 // two yarns caught at one stitch
	weightChange = 25  // weave: the next stitch is worked in another yarn
	weightShaped = 60  // the stitch is shaped
)

// strongContrast is the CIEDE2000 difference from which show-through counts fully.
const strongContrast = 50

// gapWeight is round(40 g^2 / L^2), halves up, for a gap of g stitches.
func gapWeight(g, limit int) int {
	return (2*weightGap*g*g + limit*limit) / (2 * limit * limit)
}

// showWeight is round(8 min(1, dE/50)) for a yarn caught behind another.
func showWeight(caught, worked chart.Color) int {
	d := chart.DeltaE(caught.Lab(), worked.Lab())
	return int(math.Floor(weightShow*min(1, d/strongContrast) + 0.5))
}

// showTable holds showWeight for each caught and each worked yarn.
func showTable(yarns []chart.Yarn) [][]int {
	table := make([][]int, len(yarns))
	for i, caught := range yarns {
		table[i] = make([]int, len(yarns))
		for j, worked := range yarns {
			table[i][j] = showWeight(caught.Color, worked.Color)
		}
	}
	return table
}
