package session

import (
	"math"

	"strandwise/floats"
)

// maxCount bounds a number of stitches or rows of a swatch's sums.
const maxCount = 100_000

// Sizing is a number of stitches and the width they make.
type Sizing struct {
	Stitches int
	Width    float64 // mm
}

// WidthOf is the finished width of a number of stitches.
func WidthOf(g floats.Gauge, stitches int) Sizing {
	return Sizing{stitches, float64(stitches) * g.StitchWidth()}
}

// StitchesFor is the number of stitches that come nearest to a width in mm, at least
// one; of two equally near the larger.
func StitchesFor(g floats.Gauge, width float64) Sizing {
	return WidthOf(g, max(1, int(math.Floor(width/g.StitchWidth()+0.5))))
}

// FitRepeat gives the two numbers of whole repeats around a width in mm: the largest
// that is not wider, and the next. The first has no stitches where even one repeat is
// wider.
func FitRepeat(g floats.Gauge, width float64, repeat int) (below, above Sizing) {
	whole := int(math.Floor(width/g.StitchWidth()/float64(repeat) + 1e-9))
	return WidthOf(g, whole*repeat), WidthOf(g, (whole+1)*repeat)
}

// Nearer is the one of two sizings whose width comes nearer; of two equally near the
// second. A sizing of no stitches is never nearer.
func Nearer(a, b Sizing, width float64) Sizing {
	if a.Stitches > 0 && width-a.Width < b.Width-width {
		return a
	}
	return b
}

// CheckCount holds a number of stitches or rows to 1 to 100,000; the error is a
// *FieldError.
func CheckCount(what string, n int) error { return checkBetween(what, n, 1, maxCount) }

// ItemLimits gives the limit of each kind of item at a gauge, in the order of
// floats.Items.
func ItemLimits(g floats.Gauge) []int {
	limits := make([]int, len(floats.Items))
	for i, it := range floats.Items {
		limits[i] = g.Limit(it)
	}
	return limits
}
