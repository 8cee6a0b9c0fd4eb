package session

import (
	"math"

	"strandwise/floats"
)

// maxCount bounds a number of stitches or rows of a swatch's sums.
const maxCount = 100_000

// WidthOf is the finished width of a number of stitches, in mm.
func WidthOf(g floats.Gauge, stitches int) float64 { return float64(stitches) * g.StitchWidth() }

// StitchesFor is the stitches nearest to a width in mm, at least one; of two equally near the larger.
func StitchesFor(g floats.Gauge, width float64) int {
	return max(1, int(math.Floor(width/g.StitchWidth()+0.5)))
}

// FitRepeat gives the two numbers of stitches in whole repeats around a width in mm: the largest
// that is not wider, and the next; and the nearer of them, of two equally near the larger. Below is
// 0, and never nearer, where even one repeat is wider.
func FitRepeat(g floats.Gauge, width float64, repeat int) (below, above, nearer int) {
	below = int(math.Floor(width/g.StitchWidth()/float64(repeat)+1e-9)) * repeat
	above = below + repeat
	if below > 0 && width-WidthOf(g, below) < WidthOf(g, above)-width {
		return below, above, below
	}
	return below, above, above
}

// CheckCount holds a number of stitches or rows to 1 to 100,000; the error is a *FieldError.
func CheckCount(what string, n int) error { return checkBetween(what, n, 1, maxCount) }
