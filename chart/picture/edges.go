package picture

import (
	"image/color"
	"slices"
)

const (
	strongEdge = 180 // a larger difference of two pixels says no more than this
	blurEdge   = 30  // in a rough picture smaller differences are noise
)

// edges measures, for each line between two pixel columns (or rows) of a picture,
// how much changes across it. Index i stands for the line before pixel i.
type edges struct {
	energy []int // sum of the differences along the line, each at most strongEdge
	count  []int // how many pixels of the line differ at all
}

func newEdges(size int) edges { return edges{make([]int, size), make([]int, size)} }

func (e edges) add(i, difference int) {
	if difference > 0 {
		e.energy[i] += difference
		e.count[i]++
	}
}

// bounds is the first and the last line along which much changes: the extent of
// the chart without what stands beside it.
func (e edges) bounds() (first, last int) {
	enough := max(1, slices.Max(e.count)/3)
	for first < len(e.count)-1 && e.count[first] < enough {
		first++
	}
	for last = len(e.count) - 1; last > first && e.count[last] < enough; last-- {
	}
	return first, last
}

// pictureEdges measures both directions in one pass.
func pictureEdges(p *pixels, rough bool) (across, down edges) {
	across, down = newEdges(p.width), newEdges(p.height)
	above, line := make([]color.NRGBA, p.width), make([]color.NRGBA, p.width)
	for y := range p.height {
		for x := range line {
			line[x] = p.at(x, y)
			if x > 0 {
				across.add(x, difference(line[x-1], line[x], rough))
			}
			if y > 0 {
				down.add(y, difference(above[x], line[x], rough))
			}
		}
		above, line = line, above
	}
	return across, down
}

func difference(a, b color.NRGBA, rough bool) int {
	if a == b {
		return 0
	}
	if seeThrough(a) || seeThrough(b) {
		if seeThrough(a) && seeThrough(b) {
			return 0
		}
		return strongEdge
	}
	if !rough {
		return min(channels(opaque(a), opaque(b)), strongEdge)
	}
	d := 3 * apart(gray(a), gray(b))
	if d < blurEdge {
		return 0
	}
	return min(d, strongEdge)
}

// gray is the luma of ITU-R BT.601, the channel JPEG keeps sharp.
func gray(c color.NRGBA) uint8 {
	return uint8((299*int(c.R) + 587*int(c.G) + 114*int(c.B) + 500) / 1000)
}

func apart(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }

// seeThrough reports whether a pixel is more transparent than not.
func seeThrough(c color.NRGBA) bool { return c.A < 128 }
