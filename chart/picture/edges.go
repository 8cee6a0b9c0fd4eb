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

func seeThrough(c color.NRGBA) bool { return c.A < 128 }

// peak is where much changes at once: the middle of a sharp or blurred edge, to a fraction of a pixel.
type peak struct {
	at     float64 // pixels
	energy float64
}

const (
	baseShare = 0.3 // of the lines of a rough picture show its noise and nothing else
	baseTimes = 1.5 // noise is taken off this many times
	valley    = 0.6 // a dip to this share of the lower neighbor parts two peaks
)

// peaks lists the edges in order. In a sharp picture each line between pixels is one; in a rough one neighbors belong
// together.
func (d *direction) peaks() []peak {
	above := d.aboveNoise()
	var all []peak
	for from := 0; from < d.size; {
		to := from + 1
		if d.rough {
			to = ridgeEnd(above, from)
		}
		var sum, moment float64
		for i := from; i < to; i++ {
			sum, moment = sum+above[i], moment+above[i]*float64(i)
		}
		if sum > 0 {
			all = append(all, peak{moment / sum, sum * sum})
		}
		from = to
	}
	return all
}

func (d *direction) aboveNoise() []float64 {
	base := 0.0
	if d.rough {
		sorted := slices.Sorted(slices.Values(d.energy))
		base = baseTimes * float64(sorted[int(baseShare*float64(len(sorted)))])
	}
	above := make([]float64, len(d.energy))
	for i, n := range d.energy {
		above[i] = max(0, float64(n)-base)
	}
	return above
}

// ridgeEnd is where the peak that begins at from ends: at nothing, or in a valley.
func ridgeEnd(above []float64, from int) int {
	top, low, lowAt := above[from], above[from], from
	for i := from + 1; i < len(above); i++ {
		v := above[i]
		switch {
		case v == 0:
			return i
		case v < low:
			low, lowAt = v, i
		case low < valley*min(top, v):
			return lowAt
		case v > top:
			top, low, lowAt = v, v, i
		}
	}
	return len(above)
}
