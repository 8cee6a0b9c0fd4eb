package draw

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/floats"
	"strandwise/session/hold"
)

// cross is where the two strands of a drawing cross: how far along from the fabric, whether the
// carried one comes from below or from the left of the working one, and which lies on top.
type cross struct {
	along              float64
	forward, carriedUp bool
}

// points are those of a path of bows, flattened.
func flatPath(t *testing.T, e element) []Point {
	t.Helper()
	var all []Point
	var x, y float64
	for _, part := range strings.FieldsFunc(strings.NewReplacer("M", "", "Q", "|", " ", ",").Replace(e.attr["d"]), func(r rune) bool { return r == '|' }) {
		figures := strings.Split(part, ",")
		for i := 0; i+1 < len(figures); i += 2 {
			_, err := fmt.Sscan(figures[i], &x)
			require.NoError(t, err)
			_, err = fmt.Sscan(figures[i+1], &y)
			require.NoError(t, err)
			all = append(all, Point{x, y})
		}
	}
	return flattened(all)
}

// crossesRead finds by geometry where the carried strand of a panel crosses the working one; what
// was drawn later lies on top.
func crossesRead(t *testing.T, all []element, panel element, twist, mirror bool) []cross {
	t.Helper()
	left, top := panel.length(t, "x"), panel.length(t, "y")
	local := func(p Point) Point { // along the strands from the fabric, and across them
		x, y := p.X-left, p.Y-top
		if mirror {
			x = panelWide - x
		}
		if twist {
			return Point{y, x}
		}
		return Point{panelWide - x, -y}
	}
	of := func(class string) (paths [][]Point, order []int) {
		for i, e := range all {
			if e.name != "path" || e.class != class {
				continue
			}
			var path []Point
			for _, p := range flatPath(t, e) {
				path = append(path, local(p))
			}
			at := flatPath(t, e)[0]
			if at.X >= left-1 && at.X <= left+panelWide+1 && at.Y >= top-1 && at.Y <= top+panelHigh+1 {
				paths, order = append(paths, path), append(order, i)
			}
		}
		return paths, order
	}
	carried, carriedOrder := of("carried")
	working, workingOrder := of("working")
	var found []cross
	for i, a := range carried {
		for j, b := range working {
			for k := 1; k < len(a); k++ {
				for l := 1; l < len(b); l++ {
					if at, ok := meet(a[k-1], a[k], b[l-1], b[l]); ok {
						slope := (a[k].Y-a[k-1].Y)/(a[k].X-a[k-1].X+1e-9) - (b[l].Y-b[l-1].Y)/(b[l].X-b[l-1].X+1e-9)
						found = append(found, cross{at.X, slope > 0, carriedOrder[i] > workingOrder[j]})
					}
				}
			}
		}
	}
	slices.SortFunc(found, func(a, b cross) int { return cmp.Compare(a.along, b.along) })
	// Neighboring pieces of a strand share their ends.
	return slices.CompactFunc(found, func(a, b cross) bool { return math.Abs(b.along-a.along) < 0.5 })
}

// meet is where two lines cross.
func meet(a, b, c, d Point) (Point, bool) {
	det := (b.X-a.X)*(d.Y-c.Y) - (b.Y-a.Y)*(d.X-c.X)
	if det == 0 {
		return Point{}, false
	}
	s := ((c.X-a.X)*(d.Y-c.Y) - (c.Y-a.Y)*(d.X-c.X)) / det
	u := ((c.X-a.X)*(b.Y-a.Y) - (c.Y-a.Y)*(b.X-a.X)) / det
	return toward(a, b, s), s >= 0 && s <= 1 && u >= 0 && u <= 1
}

// Each panel of each motion shows as many crossings as the motion has passes up to its step, in
// their order, each in the sense of its pass and with that strand on top which the pass leaves
// there: told from the lines drawn alone, by geometry. What a pass is says package hold; that it
// is what the words say, TestEveryPrintedMotionHoldsTheStrand.
func TestMotionsAreDrawnAsTheyAreTold(t *testing.T) {
	panels := 0
	for _, m := range hold.Motions(false) {
		for _, w := range []hold.Way{hold.Taught, hold.Other} {
			if w == hold.Other && m.Alternate == nil {
				continue
			}
			acts := m.In(w).Acts
			for _, mirror := range []bool{false, true} {
				shown := m
				if mirror {
					shown = hold.Hands{Hold: m.Hold, Carry: m.Carry, Mirror: true}.Motion(m.Side, m.Method, m.Carried.Mirror())
				}
				var b bytes.Buffer
				require.NoError(t, SVG(&b, Motion(shown, w, "motion", false)))
				all := readSVG(t, b.Bytes())
				frames := ofClass(all, "panel")
				require.Len(t, frames, len(acts))
				var passes []hold.Pass
				for i, frame := range frames {
					passes = append(passes, acts[i].Passes...)
					twist := m.Method == floats.Twist
					got := crossesRead(t, all, frame, twist, mirror)
					require.Len(t, got, len(passes), "%s %s %s %s, step %d", m.Hold, m.Side, m.Method, m.Level, i+1)
					for n, pass := range passes {
						carriedOutside := pass.Outside == pass.Carried
						wantUp := !carriedOutside
						if m.Side == hold.PurlSide && !twist {
							wantUp = carriedOutside
						}
						require.Equal(t, pass.Forward == pass.Carried, got[n].forward, "%s %s %s %s, step %d, pass %d", m.Hold, m.Side, m.Method, m.Level, i+1, n+1)
						require.Equal(t, wantUp, got[n].carriedUp, "%s %s %s %s, step %d, pass %d", m.Hold, m.Side, m.Method, m.Level, i+1, n+1)
					}
					panels++
				}
				words := ""
				for _, e := range ofClass(all, "words") {
					words += strings.TrimSpace(e.text) + " "
				}
				for i, step := range shown.In(w).Steps {
					assert.Contains(t, words, fmt.Sprintf("%d. %s ", i+1, step))
				}
			}
		}
	}
	assert.Greater(t, panels, 400)
}
