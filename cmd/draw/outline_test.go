package draw

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Bars and discs turn the same way whichever way their line goes: by the shoelace formula
// their areas have one sign.
func TestOutlinesTurnTheSameWay(t *testing.T) {
	area := func(outline []Point) float64 {
		sum := 0.0
		for i, b := range outline {
			a := outline[(i+len(outline)-1)%len(outline)]
			sum += (a.X*b.Y - b.X*a.Y) / 2
		}
		return sum
	}
	require.InDelta(t, -math.Pi*100, area(circle(Point{3, 4}, 10)), 5)
	for i := range 8 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 4)
		require.InDelta(t, -30, area(bar(Point{5, 5}, Point{5 + 10*cos, 5 + 10*sin}, 3)), 1e-9)
	}
}
