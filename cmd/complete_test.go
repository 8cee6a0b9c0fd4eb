package cmd

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/frame"
	"strandwise/session/hold"
)

// completions asks as a shell does: the last word is the one begun.
func completions(t *testing.T, path string, words ...string) []string {
	t.Helper()
	got := runMain(t, frame.Env{}, append([]string{"__completeNoDesc", "--store", path}, words...)...)
	require.Zero(t, got.code, got.err)
	lines := strings.Split(strings.TrimSuffix(got.out, "\n"), "\n")
	require.NotEmpty(t, lines)
	return lines[:len(lines)-1] // the last line is the directive
}

func TestCompletionKnowsPiecesYarnsAndHolds(t *testing.T) {
	path := seededStore(t, planted("harbor hat", 3), planted("cowl", 0))
	for _, c := range []struct {
		words []string
		want  []string
	}{
		{[]string{"show", "--piece", ""}, []string{"harbor hat", "cowl"}},
		{[]string{"show", "--piece", "c"}, []string{"cowl"}},
		{[]string{"cast-on", "cap", "--hold", ""}, frame.WordsOf(hold.Holds())},
		{[]string{"cast-on", "cap", "--hold", "left"}, []string{"left-one-finger", "left-two-fingers"}},
		{[]string{"cast-on", "cap", "--carry", ""}, []string{"parallel", "rotating"}},
		{[]string{"cast-on", "cap", "--method", ""}, []string{"weave", "twist"}},
		{[]string{"cast-on", "cap", "../examples/lantern-band.chart@6", "--dominant", ""}, []string{"pattern", "background", "fjord", "oat"}},
		{[]string{"show", "--color", "n"}, []string{"never"}},
		{[]string{"follow", "--by", ""}, []string{"row", "repeat", "run"}},
		{[]string{"follow", "--by", "ru"}, []string{"run"}},
		{[]string{"show", "--row", ""}, []string{}},
		{[]string{"settings", "ho"}, []string{"hold"}},
		{[]string{"settings", "mirror", ""}, []string{"yes", "no"}},
		{[]string{"store", "ex"}, []string{"export"}},
		{[]string{"shw"}, []string{}},
	} {
		assert.Equal(t, c.want, completions(t, path, c.words...), c.words)
	}
}

func TestCompletionIsSilentWhereThereIsNothingToSee(t *testing.T) {
	missing := filepath.Join(t.TempDir(), "none.store")
	assert.Empty(t, completions(t, missing, "show", "--piece", ""))
	assert.NoFileExists(t, missing)
	text := filepath.Join("..", "examples", "lantern-band.chart")
	assert.Empty(t, completions(t, text, "show", "--piece", ""))
	assert.Equal(t, []string{"pattern", "background"}, completions(t, text, "cast-on", "cap", "--dominant", ""))
}

func TestCompletionLeavesTheStoreAsItIsAndIsQuick(t *testing.T) {
	path := seededStore(t, planted("hat", 30))
	before, start := sumOf(t, path), time.Now()
	completions(t, path, "show", "--piece", "")
	assert.Less(t, time.Since(start), 500*time.Millisecond)
	assert.Equal(t, before, sumOf(t, path))
}

func TestCompletionShowsTextsAsTheyAreRead(t *testing.T) {
	for _, c := range everyCommand(t) {
		words := strings.Fields(c.CommandPath())[1:]
		got := runMain(t, frame.Env{}, append(append([]string{"__complete"}, words...), "--p")...)
		require.Zero(t, got.code, got.err)
		assert.Contains(t, got.out, "--piece\tNAME of the piece", words)
		assert.NotContains(t, runMain(t, frame.Env{}, append(append([]string{"__complete"}, words...), "--")...).out, "`", words)
	}
}
