package knitted_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
	"strandwise/floats"
)

// A piece planned without the planner is one that the rules allow all the same, so that each of
// its rows can be shown, whatever was caught below.
func TestRandomPiecesKeepTheRules(t *testing.T) {
	for seed := range uint64(2000) {
		p := knitted.Random(seed).Knit(t)
		var plan []floats.Catch
		for row := 1; row <= p.Rows(); row++ {
			for _, m := range p.Schedule.Row(row) {
				plan = append(plan, floats.Catch{Row: row - 1, Stitch: m.Stitch, Yarn: m.Yarn})
			}
			p.Shown(row)
		}
		require.NoError(t, p.Layout.Fabric.Check(plan, p.State.Task()), "seed %d", seed)
	}
}
