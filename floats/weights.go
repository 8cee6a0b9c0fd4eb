package floats

import (
	"math"

	"strandwise/chart"
)

// Weight is one term of the score, in points.
type Weight struct {
	Points  int
	For     string // what costs so much
	Because string
}

// Weights is the score of a plan, a sum of these whole numbers over the whole piece; lower is
// better. They order what knitters weigh (common practice, no source); only their proportions
// matter. A plan that is kept is kept under them all, so that a change of any makes it anew.
var Weights = [...]Weight{
	weightCatch:  {100, "each catch", "no oftener than needed"},
	weightGap:    {40, "each gap of g stitches, limit L", "even gaps pull evenly"},
	weightShow:   {8, "show-through, by color difference", "a pale yarn caught behind a dark one flecks"}, // from memory, so it weighs little
	weightStack:  {100, "a catch right above another", "they stack into a ridge"},
	weightNear:   {30, "a catch diagonally above another", "nearly a ridge"},
	weightTwice:  {100, "two yarns caught at one stitch", "a lump"},
	weightChange: {25, "weave just before a change of yarn", "the catch closes on the next stitch"},
	weightShaped: {60, "a catch on a shaped stitch", "a decrease is thick enough"},
	weightPurl:   {300, "a catch on a stitch worked against its side", "a purl bump shows what is caught behind it: hardly ever"},
}

type weight int

const (
	weightCatch weight = iota
	weightGap
	weightShow
	weightStack
	weightNear
	weightTwice
	weightChange
	weightShaped
	weightPurl
)

func (w weight) points() int { return Weights[w].Points }

// strongContrast is the CIEDE2000 difference from which show-through counts fully.
const strongContrast = 50

// gapWeight is round(40 g^2 / L^2), halves up, for a gap of g stitches.
func gapWeight(g, limit int) int {
	return (2*weightGap.points()*g*g + limit*limit) / (2 * limit * limit)
}

// showTable is round(8 min(1, dE/50)) for each caught and each worked yarn.
func showTable(yarns []chart.Yarn) [][]int {
	table := make([][]int, len(yarns))
	for i, caught := range yarns {
		table[i] = make([]int, len(yarns))
		for j, worked := range yarns {
			d := chart.DeltaE(caught.Color.Lab(), worked.Color.Lab())
			table[i][j] = int(math.Floor(float64(weightShow.points())*min(1, d/strongContrast) + 0.5))
		}
	}
	return table
}
