package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/floats"
)

func TestPartRefJoinsItsChart(t *testing.T) {
	parts, c := band().Parts, &chart.Chart{}
	laid, err := joined(parts, func([32]byte) (*chart.Chart, error) { return c, nil })
	assert.NoError(t, err)
	assert.Equal(t, []floats.Part{
		{Name: "lights", Chart: c, Repeats: 12, Times: 2, Rows: 10}, {Name: "plain", Repeats: 1, Times: 1, Plain: '.', Rows: 4},
	}, laid)
	assert.False(t, parts[0].IsPlain())
	assert.True(t, parts[1].IsPlain())
}

// Sums of parts that pass one by one do not run over.
func TestTotalRowsStaysInBounds(t *testing.T) {
	tall := PartRef{Name: "tall", Repeats: 1, Times: maxRows, Rows: maxRows}
	assert.NoError(t, tall.check())
	assert.Error(t, checkParts([]PartRef{tall, tall}))
	assert.Equal(t, maxRows+1, totalRows([]PartRef{tall, tall}))
	assert.NoError(t, checkParts([]PartRef{{Name: "tall", Repeats: maxRows, Times: 1, Rows: maxRows}}))
}

// What begins is bounded; a piece that is in a store is laid out however tall it is.
func TestOnlyWhatBeginsIsBounded(t *testing.T) {
	c, err := chart.Parse("band.chart", []byte("yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nrows:\n.x..\nx...\n"))
	require.NoError(t, err)
	charts := func([32]byte) (*chart.Chart, error) { return c, nil }
	tall := []PartRef{{Name: "band", Hash: [32]byte{1}, Repeats: 1, Times: floats.MostRows/2 + 1, Rows: 2}}
	var large *floats.TooLargeError
	require.ErrorAs(t, CheckSize(tall, charts), &large)
	assert.Equal(t, floats.MostRows+2, large.Rows)
	layout, err := layParts(tall, charts, floats.Work{})
	require.NoError(t, err)
	assert.Len(t, layout.Fabric.Rows, floats.MostRows+2)
}
