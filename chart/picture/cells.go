package picture

import (
	"image/color"
	"math"

	"strandwise/chart"
)

func opaque(c color.NRGBA) chart.Color { return rgb(c.R, c.G, c.B) }

const (
	border    = 0.2  // share of a cell on each side that is left out
	likeness  = 90   // sum of channel differences within which a pixel is like the median
	leastLike = 0.7  // share of pixels like the median below which a cell is doubtful
	leastSign = 0.05 // share of pixels unlike the median that may be a sign
	mostLooks = 12   // pixels looked at along each side of a cell, for speed
)

type colorCell struct {
	color    chart.Color
	empty    bool
	doubtful bool
	signed   bool // part of it has quite another color, as a sign drawn in it has
}

func (g *lattice) cells(p *pixels) [][]colorCell {
	return cellsAt(p.at, g.x.inner(p.width), g.y.inner(p.height))
}

func cellsAt(at pixelAt, across, down [][]int) [][]colorCell {
	rows := make([][]colorCell, len(down))
	var looks []color.NRGBA
	for i, lines := range down {
		rows[i] = make([]colorCell, len(across))
		for j, columns := range across {
			looks = looks[:0]
			for _, y := range lines {
				for _, x := range columns {
					looks = append(looks, at(x, y))
				}
			}
			rows[i][j] = cellColor(looks)
		}
	}
	return rows
}

// inner lists, for each cell of the axis, the pixels inside its border that are looked at.
func (a axis) inner(size int) [][]int {
	cells := make([][]int, a.count)
	for i := range cells {
		from, to := a.start+float64(i)*a.pitch, a.start+float64(i+1)*a.pitch
		if a.pitch >= 3 {
			rim := min(max(border*a.pitch, a.line/2+1), 0.4*a.pitch)
			from, to = from+rim, to-rim
		}
		first := min(max(int(math.Ceil(from-1e-6)), 0), size-1)
		last := min(max(int(math.Ceil(to-1e-6))-1, first), size-1)
		step := max(1, (last-first+1)/mostLooks)
		for x := first; x <= last; x += step {
			cells[i] = append(cells[i], x)
		}
	}
	return cells
}

func cellColor(looks []color.NRGBA) colorCell {
	if len(looks) == 1 {
		c := looks[0]
		return colorCell{color: opaque(c), empty: seeThrough(c), doubtful: c.A != 0 && c.A != 255}
	}
	colors := make([]chart.Color, 0, len(looks))
	partly := false
	for _, c := range looks {
		if !seeThrough(c) {
			colors = append(colors, opaque(c))
			partly = partly || c.A != 255
		}
	}
	like := float64(len(colors)) / float64(len(looks))
	if like < 0.5 {
		return colorCell{empty: true, doubtful: like > 1-leastLike}
	}
	middle := medianColor(colors)
	agree := share(colors, middle)
	return colorCell{color: middle, doubtful: partly || like*agree < leastLike, signed: agree < 1-leastSign}
}

type histogram struct {
	counts [3][256]int
	n      int
}

func (h *histogram) add(c chart.Color, n int) {
	h.counts[0][c.R] += n
	h.counts[1][c.G] += n
	h.counts[2][c.B] += n
	h.n += n
}

// median is that of each channel, the lower one of two; black for none.
func (h *histogram) median() chart.Color {
	var middle [3]uint8
	for channel, counts := range h.counts {
		for v, below := 0, counts[0]; 2*below < h.n; below += counts[v] {
			v++
			middle[channel] = uint8(v)
		}
	}
	return rgb(middle[0], middle[1], middle[2])
}

func medianColor(colors []chart.Color) chart.Color {
	var all histogram
	for _, c := range colors {
		all.add(c, 1)
	}
	return all.median()
}

// share is the part of the colors, of which there is one at least, that are like the given one.
func share(colors []chart.Color, like chart.Color) float64 {
	n := 0
	for _, c := range colors {
		if channels(c, like) <= likeness {
			n++
		}
	}
	return float64(n) / float64(len(colors))
}
