package cmd

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strandwise/cmd/frame"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every command that answers in JSON has the whole document of a piece of some use in
// testdata/json/COMMAND.golden, so that no key is renamed or lost unseen. The documents
// come from the sessions testdata/json/*.txt: each answer to a line with --json belongs to
// the golden of its command. A command that is in no session fails by its name.
func TestEveryJSONHasAGolden(t *testing.T) {
	recordHome(t)
	documents := map[string]string{}
	for _, script := range recordScripts(t, "json") {
		recordHeard(t, script, func(args []string, code int, out string) {
			require.NotContains(t, out, `"error":`, "%s: %v", script, args)
			require.True(t, code == int(frame.ExitDone) || out != "", "%s: %v", script, args)
			if strings.HasPrefix(out, `{"schema":`) {
				documents[commandOf(t, args)] += "$ " + strings.Join(args, " ") + "\n" + shownJSON(t, script, out)
			}
		})
	}
	for _, c := range everyCommand(t) {
		name := commandName(c)
		if !frame.AnswersJSON(c) || c.Hidden {
			continue
		}
		t.Run(name, func(t *testing.T) {
			require.NotEmpty(t, documents[name], "no session in testdata/json asks %s --json", c.CommandPath())
			compareGolden(t, filepath.Join(testdata, "json", name+".golden"), documents[name])
		})
		delete(documents, name)
	}
	assert.Empty(t, documents, "documents of commands that have no answer in JSON")
	assertNoStrangers(t)
}

// shownJSON is a document as its golden keeps it: whole, whatever its length.
func shownJSON(t *testing.T, script, out string) string {
	t.Helper()
	document, is := laidOutJSON(out)
	require.True(t, is, out)
	return strings.ReplaceAll(document, sessionName(script)+".dir", "$DIR")
}

// commandOf is the name of the command that a command line runs.
func commandOf(t *testing.T, args []string) string {
	t.Helper()
	c, _, err := Root().Find(args)
	require.NoError(t, err)
	return commandName(c)
}

// commandName is the name of a command's golden: store-check.
func commandName(c *cobra.Command) string {
	return strings.ReplaceAll(strings.TrimPrefix(c.CommandPath(), "strandwise "), " ", "-")
}

// assertNoStrangers wants a command that answers in JSON for every golden.
func assertNoStrangers(t *testing.T) {
	t.Helper()
	known := map[string]bool{}
	for _, c := range everyCommand(t) {
		known[commandName(c)+".golden"] = frame.AnswersJSON(c) && !c.Hidden
	}
	entries, err := os.ReadDir(filepath.Join(testdata, "json"))
	require.NoError(t, err)
	for _, e := range entries {
		if filepath.Ext(e.Name()) == ".golden" {
			assert.True(t, known[e.Name()], "%s is the golden of no command", e.Name())
		}
	}
}
