package draw

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/cmd/knitted"
	"strandwise/session"
)

// Where yarns cannot be told apart in gray, each stitch of the wrong side has the ticks of the
// right side, and each bow of a strand as many as its yarn has yarns before it.
func TestYarnsAlikeCarryTheirTicks(t *testing.T) {
	k := knitted.Knitting{
		Chart: "yarn: . oat #EFE6D2\nyarn: x straw #E8D9A8\nyarn: k sky #D5E0EA\nrows:\nxxxxxxxx....kkkk\n..kkkkkkkkk.....\nxxx..........xxx\n",
		Setup: session.CastOn{Name: "light", Limit: 5, Parts: []session.PartRef{{Name: "light.chart", Repeats: 2, Times: 1}}},
		Rows:  -1,
	}
	p := k.Knit(t)
	worked := WorkedPart(p, p.Review(nil))
	of := func(side Side) []element { return readSVG(t, drawn(t, worked, side)) }
	wrong, onStrands := of(WrongSide), 0
	for _, e := range ofClass(wrong, "strand") {
		onStrands += strings.Index(".xk", e.attr["data-yarn"]) * strings.Count(e.attr["d"], "Q")
	}
	assert.Greater(t, onStrands, 10)
	inLegend := 1 + 2
	assert.Len(t, ofClass(wrong, "ticks"), len(ofClass(of(RightSide), "ticks"))+onStrands+inLegend)
}
