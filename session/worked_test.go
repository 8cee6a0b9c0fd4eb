package session

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/chart"
)

// Stitches that lean, as they are worked: the wrong side keeps the lean seen on the right
// side, a mirror knitter works toward the other side and so takes the other lean. Common
// practice, no source.
func TestLeaningStitchesAsTheyAreWorked(t *testing.T) {
	cases := []struct {
		technique                                     chart.Technique
		right, wrong, mirroredRight, mirroredWrongRow string
	}{
		{chart.K2tog, "k2tog", "p2tog", "ssk", "ssp"},
		{chart.Ssk, "ssk", "ssp", "k2tog", "p2tog"},
		{chart.M1l, "m1l", "m1lp", "m1r", "m1rp"},
		{chart.M1r, "m1r", "m1rp", "m1l", "m1lp"},
		{chart.M1, "m1", "m1", "m1", "m1"},
	}
	for _, c := range cases {
		assert.Equal(t, c.right, WorkedAs(c.technique, false, false), c.technique)
		assert.Equal(t, c.wrong, WorkedAs(c.technique, true, false), c.technique)
		assert.Equal(t, c.mirroredRight, WorkedAs(c.technique, false, true), c.technique)
		assert.Equal(t, c.mirroredWrongRow, WorkedAs(c.technique, true, true), c.technique)
	}
}
