package render

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/floats"
)

func TestGaugesAloud(t *testing.T) {
	for gauge, want := range map[string]string{
		"20/4in":          "20 stitches in 4 in",
		"22x24/10cm":      "22 stitches and 24 rounds in 10 cm",
		"22x24/10 cm":     "22 stitches and 24 rounds in 10 cm",
		"23x25/9.5x10cm":  "23 stitches in 9.5 cm, and 25 rounds in 10 cm",
		"21.5x30/4x4.5in": "21.5 stitches in 4 in, and 30 rounds in 4.5 in",
	} {
		_, err := floats.ParseGauge(gauge)
		assert.NoError(t, err, "a gauge that can be logged")
		assert.Equal(t, want, gaugeAloud(gauge, "round"))
	}
}
