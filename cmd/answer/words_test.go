package answer

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/floats"
)

func TestGaugesAloud(t *testing.T) {
	for text, want := range map[string]string{
		"20/4in":          "20 stitches to 4 inches",
		"22x24/10cm":      "22 stitches and 24 rounds to 10 centimeters",
		"22x24/10 cm":     "22 stitches and 24 rounds to 10 centimeters",
		"23x25/9.5x10cm":  "23 stitches to 9.5 centimeters and 25 rounds to 10 centimeters",
		"21.5x30/4x4.5in": "21.5 stitches to 4 inches and 30 rounds to 4.5 inches",
	} {
		_, err := floats.ParseGauge(text)
		assert.NoError(t, err, "a gauge that can be logged")
		assert.Equal(t, want, gauge(text, "round").Aloud)
	}
}
