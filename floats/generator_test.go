package floats

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"strandwise/chart"
)

// generatedSize is a chart of a size for surveys and benchmarks of the planner. A row
// uses two yarns, in runs of 1 to 12 stitches of even odds; with three yarns every
// eighth row uses all three, and the others two of them that change every 4 to 12
// rows. Nothing is symmetric and nothing repeats, which is harder on a planner than
// a motif.
func generatedSize(rng *rand.Rand, width, height, yarns int) *chart.Chart {
	c := &chart.Chart{Title: "generated", Yarns: []chart.Yarn{
		{Symbol: '.', Name: "oat", Color: chart.Color{R: 0xEF, G: 0xE6, B: 0xD2}},
		{Symbol: 'x', Name: "fjord", Color: chart.Color{R: 0x1F, G: 0x4E, B: 0x79}},
		{Symbol: 'o', Name: "ember", Color: chart.Color{R: 0xB5, G: 0x40, B: 0x2A}},
	}[:yarns]}
	pair, left := []rune(".x"), 0
	for row := range height {
		if left == 0 && yarns == 3 {
			drop := rng.IntN(3)
			pair = slices.Delete([]rune(".xo"), drop, drop+1)
			left = 4 + rng.IntN(9)
		}
		left--
		in := pair
		if yarns == 3 && row%8 == 7 {
			in = []rune(".xo")
		}
		c.Rows = append(c.Rows, generatedRow(rng, width, in))
	}
	return c
}

func generatedRow(rng *rand.Rand, width int, yarns []rune) []rune {
	var row []rune
	y := rng.IntN(len(yarns))
	for len(row) < width {
		for n := 1 + rng.IntN(12); n > 0 && len(row) < width; n-- {
			row = append(row, yarns[y])
		}
		y = (y + 1 + rng.IntN(len(yarns)-1)) % len(yarns)
	}
	return row
}

// generated is the chart of a seed, for surveys of the planner: 8 to 60 columns and
// 8 to 120 rows; odd seeds in two yarns, even seeds in three.
func generated(seed uint64) *chart.Chart {
	rng := rand.New(rand.NewPCG(seed, 2026))
	return generatedSize(rng, 8+rng.IntN(53), 8+rng.IntN(113), 2+int(seed+1)%2)
}

// generatedFabric lays a generated chart in the round, 1 to 3 repeats by seed.
func generatedFabric(seed uint64) *Fabric {
	f, err := Lay([]Part{{Name: "generated", Chart: generated(seed), Repeats: 1 + int(seed)%3, Times: 1}}, Work{})
	if err != nil {
		panic(fmt.Sprintf("a generated chart cannot be laid: %v", err))
	}
	return f
}
