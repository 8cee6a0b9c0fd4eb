package draw

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
)

// The catches drawn on the charts of random pieces are those of the review, all of them, and
// what is written on a stitch is what is told of it.
func TestHeatHoldsTheCatchesOfTheReview(t *testing.T) {
	pieces := 0
	for seed := range uint64(40) {
		p := knitted.Random(seed).Knit(t)
		want, got := p.Review(nil).Catches.Used, 0
		for _, m := range p.HeatMaps() {
			var svg bytes.Buffer
			require.NoError(t, SVG(&svg, Heat(p, m)))
			all := readSVG(t, svg.Bytes())
			marked, counts := ofClass(all, "catches"), ofClass(all, "count")
			require.Len(t, counts, len(marked))
			for i, e := range marked {
				n := e.number(t, "data-catches")
				require.Equal(t, m.Rows[e.number(t, "data-row")-1][e.number(t, "data-column")-1], n)
				require.Equal(t, e.attr["data-catches"], strings.TrimSpace(counts[i].text))
				got += n
			}
		}
		require.Equal(t, want, got, "seed %d", seed)
		if want > 0 {
			pieces++
		}
	}
	assert.Greater(t, pieces, 20)
}

func TestHeatIsTheDarkerTheMoreCatches(t *testing.T) {
	last := mixed(coolest, hottest, 0)
	assert.Equal(t, coolest, last)
	for share := 1; share <= 10; share++ {
		next := mixed(coolest, hottest, float64(share)/10)
		assert.Less(t, int(next.R)+int(next.G)+int(next.B), int(last.R)+int(last.G)+int(last.B))
		last = next
	}
	assert.Equal(t, hottest, last)
}
