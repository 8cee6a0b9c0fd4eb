package answer

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/document"
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

// A gauge in the middle of a sentence is heard in words, a length without counts is left.
func TestAGaugeWithinATextIsHeardInWords(t *testing.T) {
	for text, want := range map[string]string{
		"from the gauge 24x26/10cm, for a baby": "from the gauge 24 stitches and 26 rows to 10 centimeters, for a baby",
		"from the gauge 20/4in":                 "from the gauge 20 stitches to 4 inches",
		"from 23x25/9.5x10cm.":                  "from 23 stitches to 9.5 centimeters and 25 rows to 10 centimeters.",
		"the usual one, 2 cm":                   "the usual one, 2 cm",
	} {
		var plain strings.Builder
		require.NoError(t, document.WritePlain(&plain, document.Document{Blocks: []document.Block{document.Line{Text: measured(text, "row")}}}))
		assert.Equal(t, document.Sentence(want)+"\n", plain.String())
	}
}
