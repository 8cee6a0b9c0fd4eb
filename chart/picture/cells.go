package picture

import (
	"image/color"
	"math"
	"slices"

	"strandwise/chart"
)

func opaque(c color.NRGBA) chart.Color { return rgb(c.R, c.G, c.B) }

const (
	border    = 0.2  // share of a cell on each side that is left out
	likeness  = 90   // sum of channel differences within which a pixel is like the median
	leastLike = 0.7  // share of pixels like the median below which a cell is doubtful
	leastSign = 0.05 // share of pixels unlike the median that may be a sign
)

type colorCell struct {
	color    chart.Color
	empty    bool
	doubtful bool
	signed   bool // part of it has quite another color, as a sign drawn in it has
}

func (g *lattice) cells(p *pixels) [][]colorCell {
	return cellsAt(p, g.x.inner(p.width), g.y.inner(p.height))
}

func cellsAt(p *pixels, across, down [][2]int) [][]colorCell {
	rows := make([][]colorCell, len(down))
	var looks []color.NRGBA
	for i, lines := range down {
		rows[i] = make([]colorCell, len(across))
		for j, columns := range across {
			looks = looks[:0]
			for y := lines[0]; y <= lines[1]; y++ {
				for x := columns[0]; x <= columns[1]; x++ {
					looks = append(looks, p.at(x, y))
				}
			}
			rows[i][j] = cellColor(looks)
		}
	}
	return rows
}

// inner is the first and the last pixel inside the border of each cell of the axis.
func (a axis) inner(size int) [][2]int {
	cells := make([][2]int, a.count)
	for i := range cells {
		from, to := a.start+float64(i)*a.pitch, a.start+float64(i+1)*a.pitch
		if a.pitch >= 3 {
			rim := min(max(border*a.pitch, a.line/2+1), 0.4*a.pitch)
			from, to = from+rim, to-rim
		}
		first := min(max(int(math.Ceil(from-1e-6)), 0), size-1)
		cells[i] = [2]int{first, min(max(int(math.Ceil(to-1e-6))-1, first), size-1)}
	}
	return cells
}

// cellColor is that of the pixels looked at, of which there is one at least.
func cellColor(looks []color.NRGBA) colorCell {
	colors := make([]chart.Color, 0, len(looks))
	partly := false
	for _, c := range looks {
		if !seeThrough(c) {
			colors = append(colors, opaque(c))
			partly = partly || c.A != 255
		}
	}
	all := float64(len(looks))
	if clear := 1 - float64(len(colors))/all; clear > 0.5 {
		return colorCell{empty: true, doubtful: clear < leastLike || len(looks) == 1 && looks[0].A != 0}
	}
	middle, like := medianColor(colors), 0
	for _, c := range colors {
		if channels(c, middle) <= likeness {
			like++
		}
	}
	return colorCell{
		color: middle, doubtful: partly || float64(like) < leastLike*all,
		signed: float64(like) < (1-leastSign)*float64(len(colors)),
	}
}

// medianColor is the median of each channel, the lower one of two; black for none.
func medianColor(colors []chart.Color) chart.Color {
	if len(colors) == 0 {
		return chart.Color{}
	}
	var channels [3][]uint8
	for _, c := range colors {
		for i, v := range []uint8{c.R, c.G, c.B} {
			channels[i] = append(channels[i], v)
		}
	}
	for _, values := range channels {
		slices.Sort(values)
	}
	middle := (len(colors) - 1) / 2
	return rgb(channels[0][middle], channels[1][middle], channels[2][middle])
}

// Light that falls off over a photograph makes one yarn many shades. It is taken off before colors are told apart.
// Neighboring cells that differ little are of one yarn and differ by the light alone: by so much the logarithm of the
// light grows. The light is a surface of the second degree over the whole chart, its five slopes fitted to these
// steps by least squares. It costs time linear in the cells. A chart whose yarns themselves shade by less than a
// twelfth from stitch to stitch would be leveled too: the note says that it was done.
const (
	sameStep  = 0.08 // logarithm of the brightness by which neighbors of one yarn differ at most
	darkest   = 30   // of 255: darker cells tell nothing of the light
	worthDone = 0.06 // share by which the light must fall off to be worth leveling
	leastStep = 15   // steps that tell enough of the light
	slopes    = 5
)

// surface holds the slopes of the light, or its terms at a place.
type surface [slopes]float64

// termsAt are those of the surface at a cell, its place from -1 to 1.
func termsAt(i, j, rows, columns int) surface {
	y, x := 2*(float64(i)+0.5)/float64(rows)-1, 2*(float64(j)+0.5)/float64(columns)-1
	return surface{x, y, x * x, x * y, y * y}
}

func (s surface) dot(terms surface) (sum float64) {
	for k, t := range terms {
		sum += s[k] * t
	}
	return sum
}

func evenLight(cells [][]colorCell, report *Report) {
	fit := fitLight(cells)
	least, most := math.Inf(1), math.Inf(-1)
	light := func(i, j int) float64 { return fit.dot(termsAt(i, j, len(cells), len(cells[0]))) }
	for i, row := range cells {
		for j := range row {
			least, most = min(least, light(i, j)), max(most, light(i, j))
		}
	}
	fall := 1 - math.Exp(least-most)
	if fall < worthDone {
		return
	}
	for i, row := range cells {
		for j := range row {
			row[j].color = times(row[j].color, math.Exp(most-light(i, j)))
		}
	}
	report.note("the light falls off by %.0f %%: it was leveled before the colors were told apart", 100*fall)
}

func times(c chart.Color, by float64) chart.Color {
	v := func(v uint8) uint8 { return uint8(math.Round(min(255, by*float64(v)))) }
	return rgb(v(c.R), v(c.G), v(c.B))
}

// fitLight gathers the normal equations of the steps and solves them slope by slope in turn, which converges (Gauss
// and Seidel) since they are those of least squares. No light where there is too little to go by.
func fitLight(cells [][]colorCell) (fit surface) {
	var m [slopes]surface
	var right surface
	steps := 0
	step := func(i, j, i2, j2 int) {
		grows, one := oneYarn(cells[i][j], cells[i2][j2])
		if !one {
			return
		}
		steps++
		terms := termsAt(i2, j2, len(cells), len(cells[0]))
		for k, t := range termsAt(i, j, len(cells), len(cells[0])) {
			terms[k] -= t
		}
		for k := range terms {
			for l := range terms {
				m[k][l] += terms[k] * terms[l]
			}
			right[k] += terms[k] * grows
		}
	}
	for i, row := range cells {
		for j := range row {
			if j > 0 {
				step(i, j-1, i, j)
			}
			if i > 0 {
				step(i-1, j, i, j)
			}
		}
	}
	if steps < leastStep {
		return surface{}
	}
	for range 200 {
		for k := range fit {
			if m[k][k] > 1e-9 {
				fit[k] += (right[k] - fit.dot(m[k])) / m[k][k]
			}
		}
	}
	return fit
}

func brightness(c chart.Color) float64 { return (float64(c.R) + float64(c.G) + float64(c.B)) / 3 }

// oneYarn reports whether two cells differ by no more than the light may change, and alike in all channels; grows is
// the logarithm of the second's brightness over the first's.
func oneYarn(a, b colorCell) (grows float64, one bool) {
	for _, c := range []colorCell{a, b} {
		if c.empty || c.doubtful || brightness(c.color) < darkest {
			return 0, false
		}
	}
	by := brightness(b.color) / brightness(a.color)
	return math.Log(by), math.Abs(math.Log(by)) <= sameStep && channels(times(a.color, by), b.color) <= plainDiffers/2
}
