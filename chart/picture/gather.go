package picture

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"strandwise/chart"
)

// Colors are gathered into yarns greedily: the color of most cells is a yarn; then, of the colors clearly apart
// from every yarn so far, the one of most cells is, and so on. Every other color goes to the nearest yarn. Of more
// groups than yarns wanted, those with the most cells stay. Last, each yarn takes the median color of its cells and
// the cells are dealt once more. It costs colors x groups, and both are bounded: of more than maxShades colors the
// channels are rounded.
//
// A picture without loss and with no more colors than yarns needs none of this: each color is a yarn, however near.
const (
	// ApartDeltaE is the CIEDE2000 difference from which colors are clearly apart. Our choice: less than
	// chart.AlikeDeltaE, so that near shades are kept apart and then warned of, more than a lossy picture blurs.
	ApartDeltaE = 8

	usualYarns  = 8  // at most as many when nothing is said
	tooMany     = 40 // groups from which a picture is no chart
	maxShades   = 4096
	leastApart  = 0.5 // differences not worth a yarn even when more are wanted
	doubtRatio  = 1.5 // a cell is doubtful when the second yarn is not this much farther
	doubtDeltaE = 3   // nearer than this to its yarn no cell is doubtful
)

type shade struct {
	color chart.Color
	lab   chart.Lab
	cells int
}

func shadeOf(c chart.Color, cells int) shade { return shade{c, c.Lab(), cells} }

func rgb(r, g, b uint8) chart.Color { return chart.Color{R: r, G: g, B: b} }

// countShades counts the colors of all stitches, the most frequent first, equal ones by their channels; where they
// are too many, the cells' channels are rounded until they are not.
func countShades(rows [][]colorCell) (shades []shade, found int) {
	for drop := 0; ; drop++ {
		half, counts := uint8(1<<drop>>1), map[chart.Color]int{}
		rounded := func(v uint8) uint8 { return v>>drop<<drop | half }
		for _, row := range rows {
			for i := range row {
				if c := &row[i]; !c.empty {
					c.color = rgb(rounded(c.color.R), rounded(c.color.G), rounded(c.color.B))
					counts[c.color]++
				}
			}
		}
		found = max(found, len(counts))
		if len(counts) > maxShades {
			continue
		}
		for c, n := range counts {
			shades = append(shades, shadeOf(c, n))
		}
		slices.SortFunc(shades, byCells)
		return shades, found
	}
}

func byCells(a, b shade) int {
	return cmp.Or(b.cells-a.cells, strings.Compare(a.color.String(), b.color.String()))
}

type palette struct {
	yarns  []shade
	apart  int // groups clearly apart
	finer  int // yarns that smaller differences would make; 0 when as many
	belong map[chart.Color]stitch
}

// gather makes yarns of the shades, of which there is one at least: as many as are wanted, for 0 those clearly apart.
func gather(shades []shade, wanted int, exact bool) (*palette, error) {
	limit := cmp.Or(wanted, usualYarns)
	groups := groupShades(shades, ApartDeltaE)
	p := &palette{apart: len(groups), belong: map[chart.Color]stitch{}}
	var spoiled map[chart.Color]bool
	switch {
	case exact && len(shades) <= limit:
		groups = shades
	case wanted > 0:
		for reach := ApartDeltaE / 2.0; len(groups) < wanted && reach >= leastApart; reach /= 2 {
			groups = groupShades(shades, reach)
		}
	case len(groups) > tooMany:
		return nil, fmt.Errorf("the picture has %d colors, more than %d of them clearly apart: it is no chart as it stands; give --yarns to gather them", len(shades), tooMany)
	case !exact:
		groups, spoiled = joinNoise(shades, groups)
		p.apart = len(groups)
		if finer := groupShades(shades, ApartDeltaE/2); len(finer) <= tooMany {
			if finer, _ = joinNoise(shades, finer); len(finer) > len(groups) {
				p.finer = len(finer)
			}
		}
	}
	for _, members := range dealt(shades, groups[:min(len(groups), limit)]) {
		var colors []chart.Color
		for _, m := range members {
			colors = append(colors, slices.Repeat([]chart.Color{m.color}, m.cells)...)
		}
		p.yarns = append(p.yarns, shadeOf(medianColor(colors), len(colors)))
	}
	slices.SortFunc(p.yarns, byCells)
	for _, s := range shades {
		yarn, first, second := nearestShade(p.yarns, s.lab)
		doubt := first > doubtDeltaE && (first > ApartDeltaE || second < doubtRatio*first)
		p.belong[s.color] = stitch{yarn, doubt || spoiled[s.color]}
	}
	return p, nil
}

// groupShades chooses shades at least reach from every one before, and counts to each the cells of all nearest to it;
// that of most cells comes first. It stops when there are too many for any chart.
func groupShades(shades []shade, reach float64) []shade {
	var groups []shade
	for _, s := range shades {
		if len(groups) > tooMany {
			break
		}
		if _, near, _ := nearestShade(groups, s.lab); near >= reach {
			groups = append(groups, s)
		}
	}
	for i, members := range dealt(shades, groups) {
		groups[i].cells = 0
		for _, s := range members {
			groups[i].cells += s.cells
		}
	}
	slices.SortFunc(groups, byCells)
	return groups
}

func dealt(shades, among []shade) [][]shade {
	members := make([][]shade, len(among))
	for _, s := range shades {
		i, _, _ := nearestShade(among, s.lab)
		members[i] = append(members[i], s)
	}
	return members
}

// nearestShade is the index of the nearest, how far it is, and how far the second.
func nearestShade(among []shade, lab chart.Lab) (index int, first, second float64) {
	first, second = math.Inf(1), math.Inf(1)
	for i := range among {
		switch d := chart.DeltaE(among[i].lab, lab); {
		case d < first:
			index, first, second = i, d, first
		case d < second:
			second = d
		}
	}
	return index, first, second
}

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
	var within [][]shade // of those joined
	for i, g := range groups {
		into, near, _ := nearestShade(joined, g.lab)
		few := float64(g.cells) <= max(2, fewCells*float64(total))
		parted := near >= noiseDeltaE || gap(within[into], members[i]) > noiseGap
		if near >= noiseDeltaE || parted && !few {
			joined, within = append(joined, g), append(within, members[i])
			continue
		}
		for _, s := range members[i] {
			spoiled[s.color] = parted
		}
		within[into] = append(within[into], members[i]...)
		joined[into].cells += g.cells
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
