package picture

import "slices"

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
