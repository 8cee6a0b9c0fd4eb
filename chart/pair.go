package chart

import "math"

// When two yarns are too alike to tell apart in the fabric. Both limits are our
// choice, not a standard: neighboring stitches are small and the light at home
// poor, so well above the difference of about 1 that can just be seen.
const (
	AlikeDeltaE    = 10 // CIEDE2000
	AlikeLightness = 10 // L*, for the gray test: as in a gray photograph
)

// Pair compares two yarns of a chart.
type Pair struct {
	A, B      int     // indexes into Yarns, A < B
	DeltaE    float64 // CIEDE2000, 0 when equal
	Lightness float64 // difference in L*, 0 to 100, never negative
	Contrast  float64 // WCAG 2.2 ratio, 1 to 21: made for screens, a rough scale here
}

// TooAlike reports whether the colors can hardly be told apart.
func (p Pair) TooAlike() bool { return p.DeltaE < AlikeDeltaE }

// Muddy reports whether the yarns are so alike in lightness that the pattern is
// lost in a gray photograph, and from some steps away, whatever their hues.
func (p Pair) Muddy() bool { return p.Lightness < AlikeLightness }

// Pairs compares every two yarns that are worked, in the order of Yarns.
func (c *Chart) Pairs() []Pair {
	var pairs []Pair
	counts := c.StitchCounts()
	for b := range c.Yarns {
		for a := range b {
			if counts[a] > 0 && counts[b] > 0 {
				pairs = append(pairs, c.pair(a, b))
			}
		}
	}
	return pairs
}

func (c *Chart) pair(a, b int) Pair {
	first, second := c.Yarns[a].Color, c.Yarns[b].Color
	return Pair{
		A: a, B: b,
		DeltaE:    DeltaE(first.Lab(), second.Lab()),
		Lightness: math.Abs(first.Lightness() - second.Lightness()),
		Contrast:  ContrastRatio(first, second),
	}
}
