package cmd

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/frame"
)

// Amounts in the units of yarn labels. An ounce is 28.349523125 g, a yard 0.9144 m
// (international pound and yard, 1959, by definition).
func TestAmountsAreReadAsLabelsHaveThem(t *testing.T) {
	for text, want := range map[string][3]int{
		"50g/110yd": {50000, 100584, 1}, "1.75oz/120yd": {49612, 109728, 1}, "1,75 oz / 120 yds": {49612, 109728, 1},
		"1 3/4oz": {49612, 0, 1}, "1¾ oz": {49612, 0, 1}, "120 yards": {0, 109728, 1}, "50 g/175 m *3": {50000, 175000, 3},
		"175m/50g": {50000, 175000, 1}, "61,5m": {0, 61500, 1},
	} {
		m := amount{balls: 1}
		require.True(t, m.read(text), text)
		assert.Equal(t, want, [3]int{int(m.grams), int(m.meters), m.balls}, text)
	}
	for _, text := range []string{"50", "50kg", "50g/50g", "5 0g", "g", "50g/", "50g*0", "1 5/4oz"} {
		assert.False(t, (&amount{balls: 1}).read(text), text)
	}
}

// A second ball is told of, and replaces the first on request only.
func TestBallsAreAddedOrReplaced(t *testing.T) {
	store := t.TempDir() + "/s.store"
	run := func(args ...string) ran {
		got := runMain(t, frame.Env{}, append(args, "--store", store)...)
		require.Zero(t, got.code, got.err)
		return got
	}
	run("cast-on", "hat", "example:lantern-band@4", "--gauge", "20x22/4in", "--quiet")
	assert.NotContains(t, run("yarn", "--ball", "x=50g/175m").err, "ball")
	got := run("yarn", "--ball", "oat=50g/150m", "--lot", "x=9")
	assert.Contains(t, got.err, "oat had 1 ball noted before, and has 2 now.\n  try: strandwise yarn --replace --ball oat=50g/150m, if that is all there is\n")
	assert.Contains(t, got.out, "Ball: 50 g, 175.0 m.")
	got = run("yarn", "--replace", "--ball", "oat=50g/150m")
	assert.NotContains(t, got.err, "noted before")
	assert.NotContains(t, got.out, "175.0 m")
	assert.Contains(t, got.out, "Ball: 50 g, 150.0 m.")
	assert.NotContains(t, got.out, "dye lot", "lots go with their balls")
	run("undo")
	got = run("yarn")
	assert.Contains(t, got.out, "Ball: 50 g, 175.0 m.")
	assert.Contains(t, got.out, "Ball: 50 g, 150.0 m, dye lot 9.")
	assert.Contains(t, run("yarn", "--replace", "--ball", "x=100g/350m", "--ball", "x=50g/175m").err, "oat has 2 balls now.")
}
