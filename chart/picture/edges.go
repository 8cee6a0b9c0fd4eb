package picture

import (
	"image/color"
	"slices"
)

const (
	strongEdge = 180 // a larger difference of two pixels says no more than this
	blurEdge   = 30  // in a rough picture smaller differences are noise
)

// edges sums, for the line before each pixel of a direction, the differences across it, each at most strongEdge.
func edges(at pixelAt, size, along int, rough bool) []int {
	energy := make([]int, size)
	for y := range along {
		eachEdge(at, size, y, rough, func(x, d int) { energy[x] += d })
	}
	return energy
}

// eachEdge tells how much changes before each pixel of a line of them, where anything does.
func eachEdge(at pixelAt, size, y int, rough bool, tell func(x, difference int)) {
	before := at(0, y)
	for x := 1; x < size; x++ {
		here := at(x, y)
		if d := difference(before, here, rough); d > 0 {
			tell(x, d)
		}
		before = here
	}
}

// bounds is the first and the last line along which much changes: the chart without what stands beside it.
func bounds(energy []int) (first, last int) {
	return marked(energy, max(1, slices.Max(energy)/3))
}

// marked is the first and the last place with as much; 0 and -1 where there is none.
func marked(marks []int, enough int) (first, last int) {
	last = -1
	for i, mark := range marks {
		if mark >= enough {
			if last < 0 {
				first = i
			}
			last = i
		}
	}
	return first, last
}

func difference(a, b color.NRGBA, rough bool) int {
	switch {
	case a == b, seeThrough(a) && seeThrough(b):
		return 0
	case seeThrough(a) || seeThrough(b):
		return strongEdge
	case !rough:
		return min(channels(opaque(a), opaque(b)), strongEdge)
	}
	if d := 3 * apart(gray(a), gray(b)); d >= blurEdge {
		return min(d, strongEdge)
	}
	return 0
}

// gray is the luma of ITU-R BT.601, the channel JPEG keeps sharp.
func gray(c color.NRGBA) uint8 {
	return uint8((299*int(c.R) + 587*int(c.G) + 114*int(c.B) + 500) / 1000)
}

func apart(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }

// seeThrough reports whether a pixel is more transparent than not.
func seeThrough(c color.NRGBA) bool { return c.A < 128 }
