package session

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/chart"
	"strandwise/floats"
)

func TestPartRefJoinsItsChart(t *testing.T) {
	parts, c := band().Parts, &chart.Chart{}
	for i, want := range []floats.Part{
		{Name: "lights", Chart: c, Repeats: 12, Times: 2, Rows: 10}, {Name: "plain", Repeats: 1, Times: 1, Plain: '.', Rows: 4},
	} {
		part, err := parts[i].Part(func([32]byte) (*chart.Chart, error) { return c, nil })
		assert.NoError(t, err)
		assert.Equal(t, want, part)
	}
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
