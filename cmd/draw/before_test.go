package draw

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
	"strandwise/session"
)

// As they were to be, the finished rows of random pieces have the catches their sheets showed,
// each to make and each where it holds its strand, whatever was made of them.
func TestRowsAsShownHaveTheCatchesOfTheirSheets(t *testing.T) {
	otherwise := 0
	for seed := range uint64(30) {
		p := knitted.Random(seed).Knit(t)
		if p.State.Row == 0 {
			continue
		}
		k := AsShown(p, p.State.Row)
		all := readSVG(t, drawn(t, k, WrongSide))
		shown := map[int][]session.Mark{}
		for _, e := range ofClass(all, "catch") {
			require.Equal(t, "to-make", e.attr["data-catch"])
			row := e.number(t, "data-row")
			shown[row] = append(shown[row], session.Mark{Stitch: e.stitch(t, k), Yarn: p.Layout.Fabric.Yarn([]rune(e.attr["data-yarn"])[0])})
		}
		for _, done := range p.State.DoneRows {
			slices.SortFunc(shown[done.Row], session.Mark.Compare)
			require.True(t, slices.Equal(done.Shown, shown[done.Row]), "seed %d, row %d: %v and %v", seed, done.Row, done.Shown, shown[done.Row])
			if !slices.Equal(done.Shown, done.Used) {
				otherwise++
			}
		}
		requireAnchored(t, k, all)
	}
	assert.Greater(t, otherwise, 20, "rows made otherwise")
}
