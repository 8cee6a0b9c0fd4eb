package picture

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"strandwise/chart"
)

// Colors are gathered into yarns greedily: the color of most cells is a yarn;
// then, of the colors clearly apart from every yarn so far, the one of most
// cells is, and so on. Every other color goes to the nearest yarn. When there
// are more such groups than yarns wanted, those with the most cells stay. Last,
// each yarn takes the median color of its cells and the cells are dealt once
// more. It costs colors x groups, and both are bounded: beyond maxShades colors
// are first put together when their channels agree in the upper four bits.
//
// A picture without loss and with no more colors than yarns needs none of this:
// each color is a yarn, however near two of them are.
const (
	// MaxYarns is the most yarns an import can be told to gather colors into.
	MaxYarns = 16

	// ApartDeltaE is the CIEDE2000 difference from which colors of a picture are
	// clearly apart. Our choice: less than AlikeDeltaE, so that near shades are
	// kept apart and then warned of, more than a lossy picture blurs.
	ApartDeltaE = 8

	usualYarns  = 8  // at most as many when nothing is said
	tooMany     = 40 // groups from which a picture is no chart
	maxShades   = 4096
	maxColors   = 1 << 16
	leastApart  = 0.5 // differences not worth a yarn even when more are wanted
	doubtRatio  = 1.5 // a cell is doubtful when the second yarn is not this much farther
	doubtDeltaE = 3   // nearer than this to its yarn no cell is doubtful
)

var errNoStitch = errors.New("there is no stitch in it: all of it is transparent or blank; give it a background")

// gathering says how to gather.
type gathering struct {
	yarns int  // wanted; 0: as many as are clearly apart, at most usualYarns
	exact bool // the colors are free of noise
	blank bool // empty cells will be a yarn, so none of their rows is left out
}

// shade is a color of some cells.
type shade struct {
	color chart.Color
	lab   chart.Lab
	cells int
}

// countShades lists the colors of all cells that hold a stitch, the most frequent
// first, equal ones by their channels. When there are more than maxColors, which
// is a photograph, it takes the last three bits off every cell's color first.
func countShades(rows [][]colorCell) []shade {
	counts := countColors(rows)
	if len(counts) > maxColors {
		for _, row := range rows {
			for i := range row {
				c := &row[i].color
				c.R, c.G, c.B = c.R&0xF8|4, c.G&0xF8|4, c.B&0xF8|4
			}
		}
		counts = countColors(rows)
	}
	shades := make([]shade, 0, len(counts))
	for c, n := range counts {
		shades = append(shades, shade{color: c, cells: n})
	}
	slices.SortFunc(shades, byCells)
	return shades
}

// countColors stops counting soon after maxColors.
func countColors(rows [][]colorCell) map[chart.Color]int {
	counts := map[chart.Color]int{}
	for _, row := range rows {
		for _, cell := range row {
			if !cell.empty {
				counts[cell.color]++
			}
		}
		if len(counts) > maxColors {
			break
		}
	}
	return counts
}

func byCells(a, b shade) int {
	return cmp.Or(b.cells-a.cells, cmp.Compare(number(a.color), number(b.color)))
}

func number(c chart.Color) int { return int(c.R)<<16 | int(c.G)<<8 | int(c.B) }

// coarse puts shades together whose channels agree in the upper four bits, under
// the most frequent of them, when there are more than can be compared.
func coarse(shades []shade) []shade {
	if len(shades) <= maxShades {
		return shades
	}
	index := map[int]int{}
	var few []shade
	for _, s := range shades {
		key := number(s.color) & 0xF0F0F0
		if i, ok := index[key]; ok {
			few[i].cells += s.cells
		} else {
			index[key] = len(few)
			few = append(few, s)
		}
	}
	slices.SortFunc(few, byCells)
	return few
}

// palette is the outcome: the yarn colors, the most frequent first, and how to
// tell which a color belongs to.
type palette struct {
	yarns  []shade
	apart  int // groups clearly apart
	belong map[chart.Color]verdict

	spoiled map[chart.Color]bool // too few cells for a yarn, and near one
	finer   int                  // yarns that smaller differences would make; 0 when as many
}

// verdict is the yarn of a color.
type verdict struct {
	yarn  int
	doubt bool
}

// gather makes yarns of the shades.
func (g gathering) gather(shades []shade) (*palette, error) {
	for i := range shades[:min(len(shades), maxShades+1)] {
		shades[i].lab = shades[i].color.Lab()
	}
	if len(shades) == 0 {
		return nil, errNoStitch
	}
	limit := usualYarns
	if g.yarns > 0 {
		limit = g.yarns
	}
	if g.exact && len(shades) <= limit {
		return exactPalette(shades), nil
	}
	few := coarse(shades)
	for i := range few {
		few[i].lab = few[i].color.Lab()
	}
	groups := groupShades(few, ApartDeltaE)
	found := len(groups)
	if g.yarns == 0 && found > tooMany {
		return nil, fmt.Errorf("the picture has %d colors, more than %d of them clearly apart: it is no chart as it stands; give --yarns to gather them", len(shades), tooMany)
	}
	for reach := ApartDeltaE / 2.0; len(groups) < g.yarns && reach >= leastApart; reach /= 2 {
		groups = groupShades(few, reach)
	}
	slices.SortFunc(groups, byCells)
	p := &palette{apart: found}
	if !g.exact && g.yarns == 0 {
		groups, p.spoiled = joinNoise(few, groups)
		p.apart = len(groups)
		if finer := groupShades(few, ApartDeltaE/2); len(finer) <= tooMany {
			slices.SortFunc(finer, byCells)
			if finer, _ = joinNoise(few, finer); len(finer) > len(groups) {
				p.finer = len(finer)
			}
		}
	}
	yarns := groups[:min(len(groups), limit)]
	for range 2 {
		yarns = settle(few, yarns)
	}
	p.yarns = yarns
	p.deal(shades)
	return p, nil
}

func exactPalette(shades []shade) *palette {
	p := &palette{yarns: shades, apart: len(groupShades(shades, ApartDeltaE)), belong: map[chart.Color]verdict{}}
	for i, s := range shades {
		p.belong[s.color] = verdict{yarn: i}
	}
	return p
}

// groupShades chooses the shades that are at least reach from every one chosen
// before, and counts to each the cells of all that are nearest to it. It stops
// looking for more when there are too many for any chart.
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
	for i := range groups {
		groups[i].cells = 0
	}
	for _, s := range shades {
		i, _, _ := nearestShade(groups, s.lab)
		groups[i].cells += s.cells
	}
	return groups
}

// nearestShade is the index of the nearest, how far it is, and how far the
// second.
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

// settle deals the shades to the yarns and gives each yarn the median of what it
// got, channel by channel.
func settle(shades, yarns []shade) []shade {
	mine := make([][]shade, len(yarns))
	for _, s := range shades {
		i, _, _ := nearestShade(yarns, s.lab)
		mine[i] = append(mine[i], s)
	}
	var settled []shade
	for _, members := range mine {
		if len(members) == 0 {
			continue
		}
		middle := medianShade(members)
		if !slices.ContainsFunc(settled, func(s shade) bool { return s.color == middle.color }) {
			settled = append(settled, middle)
		}
	}
	slices.SortFunc(settled, byCells)
	return settled
}

func medianShade(members []shade) shade {
	var counts [3][256]int
	n := 0
	for _, m := range members {
		counts[0][m.color.R] += m.cells
		counts[1][m.color.G] += m.cells
		counts[2][m.color.B] += m.cells
		n += m.cells
	}
	c := rgb(middle(&counts[0], n), middle(&counts[1], n), middle(&counts[2], n))
	return shade{c, c.Lab(), n}
}

// deal decides for every color.
func (p *palette) deal(shades []shade) {
	p.belong = make(map[chart.Color]verdict, len(shades))
	for i := range p.yarns {
		p.yarns[i].cells = 0
	}
	for _, s := range shades {
		yarn, first, second := nearestShade(p.yarns, s.color.Lab())
		doubt := first > doubtDeltaE && (first > ApartDeltaE || second < doubtRatio*first)
		p.belong[s.color] = verdict{yarn, doubt || p.spoiled[s.color]}
		p.yarns[yarn].cells += s.cells
	}
}

func rgb(r, g, b uint8) chart.Color { return chart.Color{R: r, G: g, B: b} }

// exchange replaces symbols in the grid.
func exchange(c *chart.Chart, by map[rune]rune) {
	for _, row := range c.Rows {
		for i, symbol := range row {
			if other, ok := by[symbol]; ok {
				row[i] = other
			}
		}
	}
}
