package session

import (
	"context"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/floats"
)

// TestYokeOfSixtyRounds works the project's own yoke: 12 columns, 20 repeats round,
// decrease rounds 26, 44 and 56. Each takes 3 stitches of 12, then 3 of 9, then 2 of 6
// from every repeat (arithmetic).
func TestYokeOfSixtyRounds(t *testing.T) {
	text, err := os.ReadFile("../examples/tide-yoke.chart")
	require.NoError(t, err)
	c, err := chart.Parse("tide-yoke.chart", text)
	require.NoError(t, err)
	on := band()
	on.Parts = []PartRef{{Name: "yoke", Hash: [32]byte{1}, Repeats: 20, Times: 1, Rows: 60}}
	on.Gauge, on.Limit, on.Item = "24x28/4in", 6, General
	p := &Piece{State: newLog(t, on).state}
	p.Layout, err = p.State.Lay(func([32]byte) (*chart.Chart, error) { return c, nil })
	require.NoError(t, err)
	plan, err := floats.MakePlan(context.Background(), p.Layout.Fabric, p.State.Task())
	require.NoError(t, err)
	p.Schedule = NewSchedule(plan, 60)

	stitches, decreases := 240, map[int]int{26: 60, 44: 60, 56: 40}
	for row := 1; row <= 60; row++ {
		s := p.Sheet(row)
		stitches -= decreases[row]
		assert.Equal(t, stitches, s.Makes(), "round %d", row)
		shaped := 0
		for _, st := range s.InOrder() {
			if st.Technique != chart.Knit {
				shaped++
			}
		}
		assert.Equal(t, decreases[row]/20, shaped, "round %d", row)
		assert.Equal(t, 240, p.Row(row).Columns(), "round %d", row)
		assert.True(t, row == 1 || s.Strips.BelowFits, "round %d", row)
		for _, m := range p.Schedule.Row(row) {
			stitch := p.Row(row).Stitch(m.Stitch)
			assert.False(t, stitch.Technique.Shaped(), "round %d, stitch %d", row, m.Stitch)
		}
	}
	assert.Equal(t, 80, stitches)
}
