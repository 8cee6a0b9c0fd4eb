package cmd

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/frame"
	"strandwise/cmd/paint"
	"strandwise/session"
	"strandwise/session/hold"
)

func TestSummaryIsShort(t *testing.T) {
	for _, width := range []string{"40", "80", "200"} {
		got := runMain(t, frame.Env{}, "--width", width)
		require.Zero(t, got.code)
		assert.Less(t, strings.Count(got.out, "\n"), 25)
		assert.Len(t, usedMost, 3)
	}
}

func TestEveryCommandIsWellDescribed(t *testing.T) {
	for _, c := range everyCommand(t) {
		name := c.CommandPath()
		assert.NotEmpty(t, c.Short, name)
		assert.NotEmpty(t, c.Long, name)
		assert.GreaterOrEqual(t, len(strings.Split(c.Example, "\n")), 2, name)
		assert.NotNil(t, c.Args, name)
		assert.NotNil(t, c.RunE, name)
		assert.True(t, c.SilenceErrors && c.SilenceUsage && c.DisableAutoGenTag, name)
		if c.HasParent() && !c.Parent().HasParent() {
			assert.NotEmpty(t, c.GroupID, name)
		}
	}
}

// The texts of help are written by hand: what they list has to be all there is.
func TestTextsOfHelp(t *testing.T) {
	c, _, err := Root().Find([]string{"hold"})
	require.NoError(t, err)
	assert.Contains(t, c.Long, "The holds: "+session.Listed(frame.WordsOf(hold.Holds()), "and")+".")
	sections := strings.Count("\n"+helpTexts, "\n# ")
	assert.Equal(t, len(everyCommand(t))+1, sections, "one more, for help itself")
}

func TestHelpFitsAndLeavesTheStoreAlone(t *testing.T) {
	home := t.TempDir()
	env := frame.Env{Getenv: fromMap(map[string]string{"HOME": home})}
	for _, c := range everyCommand(t) {
		for _, width := range []int{40, 80, 200} {
			args := append(strings.Fields(c.CommandPath())[1:], "--help", "--width", map[int]string{40: "40", 80: "80", 200: "200"}[width])
			got := runMain(t, env, args...)
			require.Zero(t, got.code, args)
			assertFits(t, got.out, width)
		}
	}
	entries, err := os.ReadDir(home)
	require.NoError(t, err)
	assert.Empty(t, entries)
}

// A flag that help offers is taken; --json is refused where it is not offered.
func TestHelpNamesTheFlagsThatAreTaken(t *testing.T) {
	offers := func(name string) bool {
		got := runMain(t, frame.Env{}, append(strings.Fields(name), "--help", "--width", "200")...)
		c, _, err := Root().Find(strings.Fields(name))
		require.NoError(t, err)
		named := slices.ContainsFunc(frame.WithBelow(c), func(c *cobra.Command) bool { return slices.Contains(aboutPiece, frame.UnderRoot(c)) })
		assert.Equal(t, named, strings.Contains(got.out, "--piece, --plain"), name)
		return strings.Contains(got.out, "--json")
	}
	for _, name := range []string{"knit", "show", "undo", "pieces", "store", "store check"} {
		assert.True(t, offers(name), name)
	}
	for _, line := range []string{"pieces rename hat cap", "tour", "follow", "chart draw x.chart"} {
		words := strings.Fields(line)
		got := runMain(t, frame.Env{}, append(words, "--json")...)
		assert.Contains(t, got.out, "has no answer in JSON", line)
		assert.False(t, offers(strings.Join(words[:min(len(words), 1+len(words)/2)], " ")), line)
	}
}

// assertFits wants every line of prose within the width; lines that are there to
// be copied, and words longer than a line, may stick out.
func assertFits(t *testing.T, text string, width int) {
	t.Helper()
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "  strandwise ") || strings.HasPrefix(line, "  -") {
			continue
		}
		assert.LessOrEqual(t, paint.Width(line), width, line)
	}
}

// TestExamplesOfHelpRun runs each example of each command as it stands, in a
// folder with the project's own example charts and with a piece cast on.
func TestExamplesOfHelpRun(t *testing.T) {
	scripts := t.TempDir()
	for _, c := range everyCommand(t) {
		var script strings.Builder
		for _, line := range strings.Split(preparation+c.Example, "\n") {
			script.WriteString("exec sh -c '" + strings.ReplaceAll(line, "'", "''") + "'\n")
		}
		name := strings.ReplaceAll(c.CommandPath(), " ", "-") + ".txt"
		require.NoError(t, os.WriteFile(filepath.Join(scripts, name), []byte(script.String()), 0o600))
	}
	testscript.Run(t, testscript.Params{Dir: scripts, Setup: atHome})
}

func copyCharts(to string) error {
	charts, err := filepath.Glob("../examples/*.chart")
	if err != nil {
		return err
	}
	for _, name := range charts {
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		if err := os.MkdirAll(to, 0o700); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(to, filepath.Base(name)), data, 0o600); err != nil {
			return err
		}
	}
	return nil
}

// preparation is what is done before the examples of a command, a line each.
const preparation = "strandwise cast-on harbor-hat example:lantern-band@4 --gauge 20x22/4in\n"

// --piece is refused where no piece is meant, and taken where one is.
func TestPieceIsRefusedWhereItMeansNothing(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	for line, code := range map[string]int{
		"chart check example:practice": 2, "tour": 2, "store": 2, "swatch 22/10cm": 2, "show": 0, "hold": 0,
	} {
		got := runMain(t, frame.Env{}, append(strings.Fields(line), "--store", path, "--piece", "hat")...)
		assert.Equal(t, code, got.code, "%s: %s", line, got.err)
	}
	for _, name := range aboutPiece {
		c, rest, err := Root().Find(strings.Fields(name))
		require.NoError(t, err)
		assert.Equal(t, name, frame.UnderRoot(c), "aboutPiece names no command: %v", rest)
	}
}
