package cmd

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/answer"
	"strandwise/session"
	"strandwise/store"
)

// No file a command writes ever takes the place of the store, a backup, or a store put
// aside, whatever leads there.
func TestNoOutputOverAStore(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	backup := mustJSON[answer.BackedUp](t, path, 0, "store", "backup").Path
	aside := mustJSON[answer.Restored](t, path, 0, "store", "restore", "--yes").Aside
	chart := "../examples/lantern-band.chart"
	for _, kept := range []string{path, backup, aside} {
		for _, c := range []struct {
			ending string
			args   []string
		}{
			{"", []string{"store", "export", "-o"}},
			{"", []string{"store", "backup", "-o"}},
			{".svg", []string{"chart", "draw", chart, "-o"}},
			{".chart", []string{"chart", "turn", chart, "--mirror", "-o"}},
			{".html", []string{"cards", "-o"}},
			{".html", []string{"review", "--sheet"}},
			{".svg", []string{"review", "--picture"}},
		} {
			link := filepath.Join(t.TempDir(), "link"+c.ending)
			require.NoError(t, os.Symlink(kept, link))
			hard := filepath.Join(t.TempDir(), "hard"+c.ending)
			require.NoError(t, os.Link(kept, hard))
			targets := []string{link, hard}
			if c.ending == "" {
				targets = append(targets, kept)
			}
			before := sumOf(t, kept)
			for _, target := range targets {
				for _, force := range []string{"--force", "--force=false"} {
					got := onStore(t, path, append(slices.Clone(c.args), target, force)...)
					assert.Equal(t, 5, got.code, "%v: %s", c.args, got.err)
					assert.Contains(t, got.err, "strandwise store restore", c.args)
				}
			}
			assert.Equal(t, before, sumOf(t, kept), c.args)
		}
	}
	none := filepath.Join(t.TempDir(), "none.svg")
	assert.Equal(t, 5, onStore(t, none, "chart", "draw", chart, "-o", none).code)
	assert.NoFileExists(t, none)
}

func TestExportsAndCopiesAreForTheirOwnerOnly(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	for _, command := range []string{"export", "backup"} {
		file := filepath.Join(t.TempDir(), "out")
		for range 2 {
			done(t, path, "store", command, "-o", file, "--force")
			info, err := os.Stat(file)
			require.NoError(t, err)
			assert.Equal(t, os.FileMode(0o600), info.Mode().Perm(), command)
			require.NoError(t, os.Chmod(file, 0o644))
		}
	}
}

// chartOf is the text of the chart that hatFrom reads.
func chartOf(t *testing.T, title string) string {
	t.Helper()
	text, err := os.ReadFile("../examples/lantern-band.chart")
	require.NoError(t, err)
	return strings.Replace(string(text), "title: ", "title: "+title, 1)
}

// hatFrom casts a piece on from a chart of its own.
func hatFrom(t *testing.T, path, name string) (file string) {
	t.Helper()
	file = filepath.Join(t.TempDir(), name+".chart")
	require.NoError(t, os.WriteFile(file, []byte(chartOf(t, name)), 0o600))
	done(t, path, "cast-on", name, file+"@6")
	return file
}

func TestSalvageNamesALostChartAndTakesItFromAFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pieces.store")
	file := hatFrom(t, path, "hat")
	hatFrom(t, path, "cowl")
	require.NoError(t, os.RemoveAll(path+".backups"))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, bytes.ReplaceAll(data, []byte("title: hat"), []byte("title: bat")), 0o600))
	to := filepath.Join(t.TempDir(), "first.store")
	said := strings.Join(strings.Fields(done(t, path, "store", "salvage", to).out), " ")
	assert.Contains(t, said, "hat stayed behind: the chart of its part hatLantern band is lost; it was read from "+file)
	assert.Contains(t, said, "--chart CHART-FILE")
	requireSound(t, to)
	assert.Contains(t, onStore(t, to, "pieces").out, "cowl")
	assert.NotContains(t, onStore(t, to, "pieces").out, "hat:")

	again := filepath.Join(t.TempDir(), "again.store")
	body := mustJSON[answer.Salvaged](t, path, 0, "store", "salvage", again, "--chart", file)
	require.Len(t, body.Pieces, 2)
	assert.Empty(t, body.Pieces[0].Waits)
	requireSound(t, again)
	done(t, again, "show", "--piece", "hat")
	assert.Equal(t, 3, onStore(t, path, "store", "salvage", again+"2", "--chart", "none.chart").code)
}

// chartsIn counts the charts of a store.
func chartsIn(t *testing.T, path string) int {
	t.Helper()
	return mustJSON[answer.StoreCheck](t, path, 0, "store", "check").Charts
}

func TestRemovedPieceTakesItsOwnChartsAlong(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pieces.store")
	file := hatFrom(t, path, "hat")
	done(t, path, "pieces", "copy", "second")
	hatFrom(t, path, "cowl")
	require.Equal(t, 2, chartsIn(t, path))
	done(t, path, "pieces", "remove", "hat", "--yes")
	assert.Equal(t, 2, chartsIn(t, path), "the second goes on with the chart")
	done(t, path, "show", "--piece", "second")
	done(t, path, "pieces", "remove", "second", "--yes")
	assert.Equal(t, 1, chartsIn(t, path))
	done(t, path, "show", "--piece", "cowl")

	// A plan that was undone names its chart still.
	done(t, path, "cast-on", "hat", file+"@6")
	require.NoError(t, os.WriteFile(file, []byte(chartOf(t, "other")), 0o600))
	done(t, path, "replan", file+"@6", "--piece", "cowl", "--yes")
	done(t, path, "undo", "--piece", "cowl")
	require.Equal(t, 3, chartsIn(t, path))
	done(t, path, "pieces", "remove", "hat", "--yes")
	assert.Equal(t, 2, chartsIn(t, path))
	done(t, path, "redo", "--piece", "cowl")
	done(t, path, "show", "--piece", "cowl")
}

// A log that salvage left with a gap goes through an export like any other.
func TestSalvagedPieceIsImported(t *testing.T) {
	p := planted("hat", 3)
	p.events = append(p.events, &session.Noted{Text: "the lost note"})
	path := seededStore(t, p)
	inStore(t, path, func(tx *store.Tx) error { return plantEvents(tx, 1, []session.Event{&session.RowKnit{Row: 4}}) })
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, bytes.ReplaceAll(data, []byte("lost note"), []byte("lost nose")), 0o600))
	to, there := filepath.Join(t.TempDir(), "s.store"), filepath.Join(t.TempDir(), "there.store")
	done(t, path, "store", "salvage", to)
	file := filepath.Join(t.TempDir(), "all.jsonl")
	done(t, to, "store", "export", "-o", file)
	done(t, there, "store", "import", file, "--yes")
	assert.Equal(t, onStore(t, to, "store", "export").out, onStore(t, there, "store", "export").out)
	requireSound(t, there)
}
