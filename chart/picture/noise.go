package picture

import (
	"math"

	"strandwise/chart"
)

// In a rough picture the cells of one yarn differ, some farther than colors that are clearly apart. Two groups of
// shades are one yarn where they go over into one another without a gap, since noise does and yarns do not. A group
// of very few cells rather near a larger one is more likely spoiled cells than a yarn: it is taken in as doubtful.
const (
	noiseDeltaE = 2 * ApartDeltaE // groups farther apart are never one yarn
	noiseGap    = 2.0             // CIE 1976 difference of two shades that noise can make
	fewCells    = 0.02            // share of all cells
)

// joinNoise joins groups that are one yarn, the smaller into the larger, of which the first has the most cells; the
// shades of spoiled cells are returned.
func joinNoise(shades, groups []shade) (joined []shade, spoiled map[chart.Color]bool) {
	members, total := dealt(shades, groups), 0
	for _, s := range shades {
		total += s.cells
	}
	spoiled = map[chart.Color]bool{}
	var kept []int
	for i, g := range groups {
		into, near := -1, math.Inf(1)
		for _, k := range kept {
			if d := chart.DeltaE(groups[k].lab, g.lab); d < min(near, noiseDeltaE) {
				into, near = k, d
			}
		}
		few := float64(g.cells) <= max(2, fewCells*float64(total))
		parted := into < 0 || gap(members[into], members[i]) > noiseGap
		if into < 0 || parted && !few {
			kept = append(kept, i)
			continue
		}
		for _, s := range members[i] {
			spoiled[s.color] = parted
		}
		members[into] = append(members[into], members[i]...)
		groups[into].cells += g.cells
	}
	for _, k := range kept {
		joined = append(joined, groups[k])
	}
	return joined, spoiled
}

func gap(a, b []shade) float64 {
	least := math.Inf(1)
	for _, s := range a {
		for _, t := range b {
			l, x, y := s.lab.L-t.lab.L, s.lab.A-t.lab.A, s.lab.B-t.lab.B
			least = min(least, l*l+x*x+y*y)
		}
	}
	return math.Sqrt(least)
}
