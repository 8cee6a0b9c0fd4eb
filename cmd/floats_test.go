package cmd

import (
	"encoding/json"
	"strings"
	"testing"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// floatsOf runs floats --json on a chart given on standard input.
func floatsOf(t *testing.T, text string, args ...string) answer.Floats {
	t.Helper()
	got := runMain(t, stdin(text), append([]string{"floats", "-", "--json"}, args...)...)
	require.Zero(t, got.code, got.err)
	var body answer.Floats
	require.NoError(t, json.Unmarshal([]byte(got.out), &body))
	return body
}

const twoYarns = "yarn: A oat #EFE6D2\nyarn: B fjord #1F4E79\n"

func TestFloatOverTheStart(t *testing.T) {
	// Arithmetic: a round of 12, yarn B only on stitches 3 and 4 of this round and
	// the next: 8 behind the rest of the lower and 2 of the upper.
	body := floatsOf(t, twoYarns+"rows:\nAAAAAAAABBAA\nAAAAAAAABBAA\n", "--limit", "5")
	assert.Contains(t, body.Floats, answer.Float{Row: 1, Stitch: 5, Length: 10, Yarn: "B", Kind: "over-start"})
}

func TestFloatsOfARoundOfRepeats(t *testing.T) {
	// Common practice, no source: row A2 B7 A5 B7 A2, four times round, limit 4: A
	// floats of 7 and B floats of 5 are caught, A twice and B once in each repeat,
	// those of 4 over each repeat never.
	body := floatsOf(t, twoYarns+"rows:\nAABBBBBBBAAAAABBBBBBBAA\n", "--repeats", "4", "--limit", "4")
	lengths := map[string]map[int]int{"A": {}, "B": {}}
	for _, f := range body.Floats {
		lengths[f.Yarn][f.Length]++
	}
	assert.Equal(t, map[string]map[int]int{"A": {7: 8}, "B": {5: 4, 4: 3}}, lengths)
	caught := map[string]int{}
	for _, c := range body.Catches {
		caught[c.Yarn]++
	}
	assert.Equal(t, 4, caught["B"])
	assert.Equal(t, 8, caught["A"])
	assert.Empty(t, body.Rests)
}

func TestFloatsOfRestingYarns(t *testing.T) {
	body := floatsOf(t, twoYarns+"rows:\nAABAA\nAAAAA\nAABAA\n", "--flat", "--rest", "1")
	assert.Equal(t, []answer.Rest{{Yarn: "B", FromRow: 2, ToRow: 2, Cut: false}}, body.Rests)
	kinds := map[string]bool{}
	for _, f := range body.Floats {
		kinds[f.Kind] = true
	}
	assert.True(t, kinds["to-edge"] && kinds["across"] && kinds["from-edge"])
	body = floatsOf(t, twoYarns+"rows:\nAABAA\nAAAAA\nAABAA\n", "--flat", "--rest", "0")
	assert.Equal(t, []answer.Rest{{Yarn: "B", FromRow: 2, ToRow: 2, Cut: true}}, body.Rests)
}

func TestLimitOfATrial(t *testing.T) {
	// Common practice (about an inch), arithmetic.
	for gauge, limit := range map[string]int{"20/4in": 5, "24/4in": 6, "28/4in": 7, "22/4in": 5, "18/4in": 4} {
		assert.Equal(t, limit, floatsOf(t, twoYarns+"rows:\nAB\n", "--gauge", gauge).Limit, gauge)
	}
	assert.Equal(t, 3, floatsOf(t, twoYarns+"rows:\nAB\n", "--gauge", "20/4in", "--item", "baby").Limit)
	assert.Equal(t, 5, floatsOf(t, twoYarns+"rows:\nAB\n").Limit)
}

func TestTrialsThatCannotBe(t *testing.T) {
	chart := twoYarns + "rows:\nAB\n"
	for _, args := range [][]string{
		{"--repeats", "0"},
		{"--times", "-1"},
		{"--rest", "-1"},
		{"--repeats", "2000001"},
		{"--repeats", "2000", "--times", "2000"},
		{"--limit", "0"},
		{"--limit", "2cm"},
		{"--limit", "x"},
		{"--gauge", "22"},
		{"--gauge", "0/10cm"},
		{"--item", "baby"},
		{"--item", "glove"},
		{"--method", "knot"},
	} {
		got := runMain(t, stdin(chart), append([]string{"floats", "-"}, args...)...)
		assert.Equal(t, 2, got.code, args)
		assert.Contains(t, got.err, "\n  try: ", args)
		assert.Empty(t, got.out)
	}
}

// stdin is the world with text on standard input.
func stdin(text string) frame.Env { return frame.Env{In: strings.NewReader(text)} }
