package document

import (
	"testing"
	"time"

	"strandwise/chart"

	"github.com/stretchr/testify/assert"
)

func TestSpent(t *testing.T) {
	for minutes, want := range map[float64]string{0: "under 1 min", 0.4: "under 1 min", 1: "1 min", 59.4: "59 min", 60: "1 h", 90: "1 h 30 min", 1500: "25 h"} {
		assert.Equal(t, want, Spent(time.Duration(minutes*float64(time.Minute))))
	}
}

func TestLengths(t *testing.T) {
	assert.Equal(t, "2.5 cm", Length(25.4, false))
	assert.Equal(t, "1.0 in", Length(25.4, true))
}

func TestCounted(t *testing.T) {
	assert.Equal(t, "1 stitch", Counted(1, "stitch"))
	assert.Equal(t, "2 stitches", Counted(2, "stitch"))
	assert.Equal(t, "no rows", Counted(0, "row"))
	assert.Equal(t, "rounds", chart.Plural("round", 22))
}
