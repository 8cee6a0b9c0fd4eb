package cmd

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// done runs the program on a store and wants success.
func done(t *testing.T, path string, args ...string) ran {
	t.Helper()
	got := onStore(t, path, args...)
	require.Zero(t, got.code, "%v: %s", args, got.err)
	return got
}

// carried exports a store into a file.
func carried(t *testing.T, from string) (file string) {
	t.Helper()
	file = filepath.Join(t.TempDir(), "all.jsonl")
	done(t, from, "store", "export", "-o", file)
	return file
}

// A piece that was renamed there keeps to itself here: no second piece gets its name,
// and the choice goes with it.
func TestImportOfAPieceRenamedThere(t *testing.T) {
	there, here := seededStore(t, planted("hat", 3)), seededStore(t)
	done(t, here, "store", "import", carried(t, there), "--yes")
	done(t, here, "cast-on", "cap", "../examples/lantern-band.chart")
	done(t, here, "pieces", "switch", "hat")
	done(t, there, "pieces", "rename", "hat", "cap")
	file, before := carried(t, there), sumOf(t, here)
	for _, args := range [][]string{{"--yes"}, {"--dry-run"}} {
		got := onStore(t, here, append([]string{"store", "import", file}, args...)...)
		assert.Equal(t, 1, got.code, got.out)
		assert.Contains(t, got.err, "another piece named cap")
		assert.Contains(t, got.err, "nothing was saved")
	}
	assert.Equal(t, before, sumOf(t, here))

	done(t, here, "pieces", "rename", "cap", "cowl")
	done(t, here, "store", "import", file, "--yes")
	assert.Contains(t, done(t, here, "pieces").out, "* cap: ")
	assert.Contains(t, done(t, here, "resume").out, "cap")
	requireSound(t, here)
}

// Two pieces that changed names with each other there do so here too.
func TestImportOfPiecesThatChangedNames(t *testing.T) {
	there, here := seededStore(t, planted("hat", 3), planted("cap", 2)), seededStore(t)
	done(t, here, "store", "import", carried(t, there), "--yes")
	for _, names := range [][]string{{"hat", "cowl"}, {"cap", "hat"}, {"cowl", "cap"}} {
		done(t, there, append([]string{"pieces", "rename"}, names...)...)
	}
	done(t, here, "store", "import", carried(t, there), "--yes")
	assert.Equal(t, done(t, there, "pieces").out, done(t, here, "pieces").out)
	requireSound(t, here)
}
