package picture

import (
	"image/color"
	"math"
	"slices"

	"strandwise/chart"
)

const (
	strongEdge = 180 // a larger difference of two pixels says no more than this
	blurEdge   = 30  // in a rough picture smaller differences are noise
)

// edges sums, for the line before each pixel of a direction, the differences across it, each at most strongEdge.
func (p *pixels) edges(rough bool) []int {
	energy := make([]int, p.width)
	for y := range p.height {
		p.eachEdge(y, rough, func(x, d int) { energy[x] += d })
	}
	return energy
}

// eachEdge tells how much changes before each pixel of a line of them, where anything does.
func (p *pixels) eachEdge(y int, rough bool, tell func(x, difference int)) {
	before := p.at(0, y)
	for x := 1; x < p.width; x++ {
		here := p.at(x, y)
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
	for from := 0; from < d.width; {
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

const (
	lineDiffers  = 24   // sum of channel differences by which a line stands out from the cells beside it
	roughDiffers = 36   // the same in a rough picture
	drawnShare   = 0.25 // share of places where a line must stand out; where a yarn has its color it does not
)

// drawnLines reports whether lines are drawn between the cells: a line differs from the cells on both sides. The
// places are the middles of the windows that hold the edges.
func (d *direction) drawnLines(places []float64, wide int) bool {
	differs := lineDiffers
	if d.rough {
		differs = roughDiffers
	}
	all, lines := 0, 0
	for i := 1; i+1 < len(places); i++ {
		left, right := int(places[i-1]+places[i])/2, int(places[i]+places[i+1])/2
		first := int(math.Ceil(places[i] - float64(wide-1)/2))
		for along := d.begin; along < d.end; along++ {
			before, after := opaque(d.at(left, along)), opaque(d.at(right, along))
			all++
			for x := first; x < first+wide-1; x++ {
				if c := opaque(d.at(x, along)); channels(c, before) >= differs && channels(c, after) >= differs {
					lines++
					break
				}
			}
		}
	}
	return all > 0 && float64(lines) >= drawnShare*float64(all)
}

func channels(a, b chart.Color) int { return apart(a.R, b.R) + apart(a.G, b.G) + apart(a.B, b.B) }

const (
	sharpDiffers = 6  // sum of channel differences that no eye sees, of fading light
	plainDiffers = 40 // sum of channel differences that noise near a frame can make in a rough picture
	steadyFor    = 4  // pixels along a strip, between which uneven light changes it little
)

// plain reports whether a strip beside a grid is of one color, or shades slowly, as a margin does; a column of cells
// does not.
func (d *direction) plain(from, to, first, end int) bool {
	noise := sharpDiffers
	if d.rough {
		noise = plainDiffers
	}
	var strip []chart.Color // median across the strip for each pixel along it
	for along := first; along < end; along++ {
		var across []chart.Color
		for x := max(from, 0); x < to; x++ {
			across = append(across, opaque(d.at(x, along)))
		}
		strip = append(strip, medianColor(across))
		if channels(strip[along-first], strip[max(along-first-steadyFor, 0)]) > noise {
			return false
		}
	}
	return true
}
