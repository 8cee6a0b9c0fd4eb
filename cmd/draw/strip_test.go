package draw

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
	"strandwise/session"
)

func TestStripsShowTheirRows(t *testing.T) {
	for name := range knitted.Examples(t) {
		p := example(t, name, 3)
		for row := 1; row <= p.Rows(); row++ {
			s := p.Sheet(row)
			requireStripTrue(t, s, Strip(s))
		}
	}
}

// No letter or figure of a strip is under 8 points, and none goes past the room beside the box to
// tick on A4 paper: 210 mm, less two margins of 12 mm and 9 mm for the box.
func TestStripsAreReadOnPaper(t *testing.T) {
	texts := 0
	for name := range knitted.Examples(t) {
		p := example(t, name, 0)
		for row := 1; row <= p.Rows(); row++ {
			scene := Strip(p.Sheet(row))
			require.LessOrEqual(t, scene.Width, 177.0, name)
			for _, shape := range scene.Shapes {
				if shape.Text != "" {
					require.GreaterOrEqual(t, shape.Size/25.4*72, 8.0, "%s, row %d: %q", name, row, shape.Text)
					texts++
				}
			}
		}
	}
	require.Greater(t, texts, 1000)
}

// requireStripTrue reads a strip's stitches and catches back.
func requireStripTrue(t *testing.T, s *session.Sheet, scene *Scene) {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, SVG(&b, scene))
	all := readSVG(t, b.Bytes())
	boxes := ofClass(all, "stitch")
	require.Len(t, boxes, len(s.InOrder()))
	var caught []string
	for _, e := range ofClass(all, "catch") {
		caught = append(caught, e.attr["data-yarn"]+e.attr["data-stitch"])
	}
	var want []string
	for _, c := range s.Distinct() {
		want = append(want, fmt.Sprintf("%c%d", c.Yarn.Symbol, c.Stitch))
	}
	require.ElementsMatch(t, want, caught)
}

// Two yarns caught at one stitch have a sign each, beside each other and on their stitch.
func TestStripShowsEveryYarnCaughtAtAStitch(t *testing.T) {
	p := example(t, "practice", -1)
	s := p.Sheet(2)
	alone := s.Blocks[0].Often.Catches[0]
	other := alone
	other.Letter, other.Yarn = "b", session.PieceYarn{Yarn: s.Yarns[1-alone.Yarn.Index], Index: 1 - alone.Yarn.Index}
	s.Blocks[0].Often.Catches = append(s.Blocks[0].Often.Catches, other)
	s.Blocks[0].Others = nil
	clear(s.Strips.Caught)
	for _, c := range s.Distinct() {
		at := &s.Strips.Caught[s.StitchOf(c).Column]
		*at = append(*at, c)
	}
	scene := Strip(s)
	requireStripTrue(t, s, scene)
	var signs []Shape
	for _, shape := range scene.Shapes {
		if shape.Class == "catch" && shape.Data[1].Value == fmt.Sprint(alone.Stitch) {
			signs = append(signs, shape)
		}
	}
	require.Len(t, signs, 2)
	a, b := signs[0], signs[1]
	require.GreaterOrEqual(t, math.Hypot(a.Points[0].X-b.Points[0].X, a.Points[0].Y-b.Points[0].Y), a.Radius+b.Radius)
	require.LessOrEqual(t, math.Abs(a.Points[0].X-b.Points[0].X)/2+a.Radius, stripCell/2)
}
