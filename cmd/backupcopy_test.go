package cmd

import (
	"os"
	"path/filepath"
	"testing"

	"strandwise/cmd/answer"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBackupToStandardOutputIsTheStoreAndNothingElse(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	out := done(t, path, "store", "backup", "-o", "-").out
	copied := filepath.Join(t.TempDir(), "copied.store")
	require.NoError(t, os.WriteFile(copied, []byte(out), 0o600))
	assert.Zero(t, len(out)%4096)
	requireSound(t, copied)
}

// A backup that cannot be copied where it was asked for is not made at all, lest it take
// the place of another.
func TestBackupIsNotMadeWhereItsCopyCannotBe(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	made := mustJSON[answer.BackedUp](t, path, 0, "store", "backup")
	there := filepath.Join(t.TempDir(), "there.store")
	require.NoError(t, os.WriteFile(there, []byte("low water"), 0o600))
	for _, c := range []struct {
		code int
		args []string
	}{
		{1, []string{"-o", there}},
		{5, []string{"-o", filepath.Join(there, "below.store")}},
		{5, []string{"-o", filepath.Join(t.TempDir(), "none", "copy.store")}},
		{2, []string{"-o", "-", "--json"}},
	} {
		got := onStore(t, path, append([]string{"store", "backup"}, c.args...)...)
		assert.Equal(t, c.code, got.code, "%v: %s", c.args, got.err)
		assert.Contains(t, got.err+got.out, "nothing was saved", c.args)
		entries, err := os.ReadDir(filepath.Dir(made.Path))
		require.NoError(t, err)
		require.Len(t, entries, 1, c.args)
		assert.Equal(t, filepath.Base(made.Path), entries[0].Name(), c.args)
	}
	done(t, path, "store", "backup", "-o", there, "--force")
	requireSound(t, there)
}

func TestReplanningMakesTheDaysBackup(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	done(t, path, "replan", "--limit", "4", "--dry-run")
	assert.NoDirExists(t, path+".backups")
	done(t, path, "replan", "--limit", "4")
	entries, err := os.ReadDir(path + ".backups")
	require.NoError(t, err)
	require.Len(t, entries, 1)
	assert.Contains(t, entries[0].Name(), "-daily")
}
