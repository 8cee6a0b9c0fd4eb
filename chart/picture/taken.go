package picture

import (
	"slices"

	"strandwise/chart"
)

// Match says for which known yarn a color of a picture or table was taken.
type Match struct {
	From, To chart.Yarn
	DeltaE   float64 // CIEDE2000, 0 when equal
	Stitches int     // worked in it
	Doubt    bool    // another yarn is nearly as near, or a color that is clearly another went to the same yarn
}

// Far reports whether the yarn is not near the color at all: they can be told apart at a glance.
func (m Match) Far() bool { return m.DeltaE >= chart.AlikeDeltaE }

// TakeYarns returns an imported chart in which each yarn is the nearest of those given, of which there is one at
// least, by CIEDE2000, with its symbol, name and color, and tells for each which that was, in the order of c.Yarns.
// Of yarns equally near the first given counts.
func TakeYarns(c *chart.Chart, yarns []chart.Yarn) (*chart.Chart, []Match) {
	known := make([]shade, len(yarns))
	for i, y := range yarns {
		known[i] = shade{color: y.Color, lab: y.Color.Lab()}
	}
	by, matches, counts := map[rune]chart.Yarn{}, []Match(nil), c.StitchCounts()
	for i, y := range c.Yarns {
		at, first, second := nearestShade(known, y.Color.Lab())
		if same := slices.Index(yarns, y); same >= 0 {
			at, first, second = same, 0, chart.AlikeDeltaE
		}
		by[y.Symbol] = yarns[at]
		matches = append(matches, Match{
			From: y, To: yarns[at], DeltaE: first, Stitches: counts[i],
			Doubt: first > doubtDeltaE && second < doubtRatio*first,
		})
	}
	doubtShared(matches)
	taken := c.WithYarns(by)
	slices.SortFunc(taken.Yarns, func(a, b chart.Yarn) int { return slices.Index(yarns, a) - slices.Index(yarns, b) })
	return taken, matches
}

func doubtShared(matches []Match) {
	for i := range matches {
		for j := range matches {
			a, b := &matches[i], &matches[j]
			if a.To == b.To && a.DeltaE < b.DeltaE && chart.DeltaE(a.From.Color.Lab(), b.From.Color.Lab()) >= ApartDeltaE {
				b.Doubt = true
			}
		}
	}
}
