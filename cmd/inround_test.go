package cmd

import (
	"bytes"
	"context"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

// chartRows are the places where a row is meant though the piece is worked in the round:
// a row of the chart or of the practice chart, a flag, and purl rows, which are flat.
var chartRows = regexp.MustCompile(`(?i)lantern band row \d+|--rows?\b|practice.chart has rows|purl such rows`)

var rowWord = regexp.MustCompile(`(?i)\brows?\b`)

// inTheRound are commands on a hat of 22 rounds, in order; what each prints, errors
// too, speaks of rounds.
var inTheRound = []string{
	"cast-on hat band.chart@6 --gauge 24x26/10cm",
	"pieces", "show", "show --steps --seats", "hold", "settings piece", "resume", "review", "history", "note",
	"rip", "rip 1 --yes", "undo", "redo", "bind-off --quiet", "undo",
	"knit --row 5", "knit --row 0", "knit --row -2", "knit --to 99", "show --row 99", "pause 144", "pause 999", "pause 3@9",
	"knit --to 4", "knit --moved a-3", "knit --missed a,b", "knit --moved a+1", "knit --extra 400", "knit --extra 2",
	"knit --row 2", "knit --to 2", "show --why", "show --row 3", "pause 9", "pause 0", "pause 9", "resume", "rip",
	"rip", "rip 99 --yes", "rip 2", "rip 2 --yes", "undo", "note loose_there", "note over_there --row 3", "note x --row 99",
	"note", "history", "review", "review --rows 3", "review --side wrong", "review --side wrong --rows 50",
	"review --side right --rows 2:4", "cards -o x.pdf --rows 99", "cards -o x.html --force",
	"locate 3_oat_2_fjord_1_oat", "locate 11_fjord", "locate 50_fjord", "locate 1_oat --below 3_oat",
	"pieces", "yarn", "yarn --used fjord=18g", "hold --method twist", "show", "motions", "motions --all",
	"replan --limit 4 --yes", "replan band.chart@6x2 --dry-run", "replan x:2 --yes",
	"knit --to 22", "pieces", "knit", "knit --row 3", "show", "pause 3", "rip", "resume", "cards -o y.pdf", "follow", "review",
	"bind-off", "pieces", "knit", "show", "resume", "follow", "rip", "undo", "pieces copy second", "pieces", "show", "review",
	"pieces remove hat",
}

func TestNoRowsInTheRound(t *testing.T) {
	text, err := os.ReadFile("../examples/lantern-band.chart")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("band.chart", text, 0o600))
	for _, line := range inTheRound {
		for _, way := range [][]string{nil, {"--plain"}} {
			if way != nil && !onlyReads(line) {
				continue
			}
			got := runMain(t, roundEnv(), append(wordsOfLine(line), way...)...)
			for _, said := range strings.Split(got.out+got.err, "\n") {
				assert.NotRegexp(t, rowWord, chartRows.ReplaceAllString(said, ""), "%s %v", line, way)
			}
		}
	}
}

// onlyReads reports whether a command of the list may run twice.
func onlyReads(line string) bool {
	for _, writes := range []string{"cast-on", "knit", "rip", "undo", "redo", "bind-off", "pause", "note ", "replan", "copy", "cards", "--used", "follow"} {
		if strings.Contains(line, writes) {
			return false
		}
	}
	return true
}

// roundEnv is a store in the working folder; follow reads a few words.
func roundEnv() frame.Env {
	return frame.Env{
		In:     strings.NewReader("words\nshow\nback\nnext\nundo\nnext\nmotion\nquit\n"),
		Getenv: fromMap(map[string]string{"STRANDWISE_STORE": "pieces.store"}),
	}
}

// What the store's list kept before it knew how a piece is worked says rows.
func TestOldListOfPiecesSaysRows(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	env := frame.Env{Getenv: fromMap(map[string]string{"STRANDWISE_STORE": path})}
	assert.Contains(t, runMain(t, env, "pieces").out, "hat: 3 of 110 rounds are worked")
	oldInfo(t, path)
	assert.Contains(t, runMain(t, env, "pieces").out, "hat: 3 of 110 rows are worked")
	require.Zero(t, runMain(t, env, "knit").code)
	assert.Contains(t, runMain(t, env, "pieces").out, "hat: 4 of 110 rounds are worked")
}

// oldInfo takes out of the list what it did not keep at first.
func oldInfo(t *testing.T, path string) {
	t.Helper()
	err := store.At(path, store.Options{}).Update(context.Background(), func(tx *store.Tx) error {
		found, err := stored.Find(tx, "hat", "%s")
		if err != nil {
			return err
		}
		info, err := tx.Info(found.ID)
		if err != nil {
			return err
		}
		return tx.SetInfo(found.ID, bytes.Replace(info, []byte(`,"round":true`), nil, 1))
	})
	require.NoError(t, err)
}
