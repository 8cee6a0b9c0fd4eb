package floats

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A weight is one row of Weights; the twin and the README tell each once more.
func TestEveryWeightIsToldEverywhere(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	table := string(readme)
	table = table[strings.Index(table, "| weight | for | because |"):]
	table = table[:strings.Index(table, "\n\n")]
	for _, w := range Weights {
		require.NotEmpty(t, w.For, "floats/weights.go: a weight without its row")
		assert.Equal(t, w.Points, naiveWeights[w.For], "floats/naive_test.go: %s", w.For)
		row := fmt.Sprintf(`(?m)^\| (0-)?%d( g²/L²)? \| %s \| %s \|$`, w.Points, regexp.QuoteMeta(w.For), regexp.QuoteMeta(w.Because))
		assert.Regexp(t, row, table, "README.md: %s", w.For)
	}
	assert.Len(t, naiveWeights, len(Weights), "floats/naive_test.go")
	assert.Equal(t, len(Weights), strings.Count(table, "\n")-1, "README.md")
}

// The twin prices what it names: a piece that has it all uses every weight.
func TestTheTwinUsesEveryWeight(t *testing.T) {
	naiveUsed.Clear()
	f := swatch{rows: []string{"xooo/////////oox", "xoo---------ooox"}}.fabric(t)
	planOf(t, f, 3, Weave)
	for _, w := range Weights {
		_, used := naiveUsed.Load(w.For)
		assert.True(t, used, "floats/naive_test.go: %s", w.For)
	}
}
