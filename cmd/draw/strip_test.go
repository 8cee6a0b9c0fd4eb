package draw

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"strandwise/session"
)

func TestStripsShowTheirRows(t *testing.T) {
	for _, k := range examplesKnitted(t) {
		k.rows = 2
		p := k.knit(t)
		for row := 1; row <= p.Rows(); row++ {
			s := p.Sheet(row)
			requireStripTrue(t, s, Strip(s))
		}
	}
}

// requireStripTrue reads a strip's stitches and catches back.
func requireStripTrue(t *testing.T, s *session.Sheet, scene *Scene) {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, SVG(&b, scene))
	all := readSVG(t, b.Bytes())
	boxes := ofClass(all, "stitch")
	require.Len(t, boxes, len(s.Order))
	var caught []string
	for _, e := range ofClass(all, "catch") {
		caught = append(caught, e.attr["data-yarn"]+e.attr["data-stitch"])
	}
	var want []string
	for _, c := range s.Distinct() {
		want = append(want, fmt.Sprintf("%c%d", s.Yarns[c.Yarn].Symbol, c.Stitch))
	}
	require.ElementsMatch(t, want, caught)
}
