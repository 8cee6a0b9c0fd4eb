package session

import (
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// A chart names a stitch by its look on the right side. These are the words for it
// as it is worked with the wrong side facing (common practice). A made stitch keeps its
// lean when the strand is lifted the same way and purled through the same loop: turning
// the work changes neither the loop's mount nor the twist.
var onWrongSide = [...]string{
	chart.Knit: "purl", chart.Purl: "knit", chart.K2tog: "p2tog", chart.Ssk: "ssp",
	chart.K3tog: "p3tog", chart.Sk2p: "sp2p", chart.Cdd: "centered double decrease, purled", chart.Kfb: "pfb",
	chart.M1l: "m1lp", chart.M1r: "m1rp",
}

// WorkedAs is the word for a stitch as the knitter works it: wrong-side rows work
// knit as purl, k2tog as p2tog and so on, and a mirror knitter k2tog as ssk, m1l as m1r and the
// reverse, since she works toward the other side.
func WorkedAs(t chart.Technique, wrongSide, mirror bool) string {
	if mirror {
		t = t.Mirrored()
	}
	if wrongSide && onWrongSide[t] != "" {
		return onWrongSide[t]
	}
	return t.String()
}

// fillShaping lists the stitches that are not plain: shaped ones, and those worked
// otherwise than the rest of the row.
func (s *Sheet) fillShaping() {
	for i, st := range s.Order {
		if st.Technique != chart.Knit {
			s.Shaping = append(s.Shaping, Shaping{Stitch: i + 1, Word: WorkedAs(st.Technique, s.WrongSide, s.mirror), Yarn: st.Yarn})
		}
	}
}

// Shapes reports whether the row adds or takes stitches anywhere.
func (s *Sheet) Shapes() bool {
	return slices.ContainsFunc(s.Order, func(st floats.Stitch) bool { return st.Technique.Uses() != 1 || st.Technique.Makes() != 1 })
}
