package cmd

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// killedAt is the program, killed at its nth system call of a kind, if one thread makes
// so many of them: on one core most are made by one.
func (w *terminal) killedAt(call string, nth int, args ...string) *exec.Cmd {
	c := w.command(args...)
	c.Env = append(c.Env, "GOMAXPROCS=1")
	inject := fmt.Sprintf("inject=%s:signal=KILL:when=%d", call, nth)
	traced := exec.Command("strace", append([]string{"-f", "-o", "/dev/null", "-e", "trace=" + call, "-e", inject, c.Path}, args...)...)
	traced.Env = c.Env
	return traced
}

// loseEvent spoils the checksum of an event of the first piece, wherever it stands in
// the file.
func loseEvent(t *testing.T, path string, seq uint64) {
	t.Helper()
	var sum []byte
	inStore(t, path, func(tx *store.Tx) error {
		all, err := tx.Records(1)
		sum = binary.BigEndian.AppendUint32(nil, all[seq-1].CRC)
		return err
	})
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Contains(t, string(data), string(sum))
	require.NoError(t, os.WriteFile(path, bytes.ReplaceAll(data, sum, []byte("tide")), 0o600))
}

// At whichever call a salvage is killed, under the new name is nothing or a store whose
// pieces can be worked on.
func TestKilledSalvageIsWholeOrNothing(t *testing.T) {
	t.Parallel()
	need(t, "strace")
	path := seededStore(t, planted("hat", 6))
	loseEvent(t, path, 4)
	w := terminalOn(t, path)
	for call, most := range map[string]int{"flock": 20, "fdatasync": 8, "linkat": 2} {
		for nth := 1; nth <= most; nth++ {
			to := filepath.Join(t.TempDir(), "rescued.store")
			_ = w.killedAt(call, nth, "store", "salvage", to).Run()
			if _, err := os.Lstat(to); err != nil {
				require.Zero(t, w.run("store", "salvage", to).code)
			}
			got := onStore(t, to, "show")
			assert.Zero(t, got.code, "%s %d: %s", call, nth, got.err)
			requireSound(t, to)
		}
	}
}

// Where there is room for an empty store and not for the first piece, there is no store.
func TestCastOnOnANearlyFullDisk(t *testing.T) {
	refusals := 0
	for _, size := range []string{"8k", "16k", "24k", "28k", "32k", "40k", "48k", "64k", "1m"} {
		folder := mounted(t, size)
		w := terminalOn(t, filepath.Join(folder, "pieces.store"))
		got := w.run("cast-on", "hat", "../examples/lantern-band.chart@4x5")
		if got.code == 0 {
			requireSound(t, w.store)
			continue
		}
		refusals++
		assert.Equal(t, 5, got.code, "%s: %s", size, got.err)
		assert.Contains(t, got.err, "nothing was saved", size)
		assert.Contains(t, got.err, w.store+": the store c", size)
		assert.NotContains(t, got.err, ".new-", size)
		entries, err := os.ReadDir(folder)
		require.NoError(t, err)
		assert.Empty(t, entries, size)
	}
	assert.Greater(t, refusals, 2)
	assert.Less(t, refusals, 9)
}

// A disk that fails while a store is made leaves none, and that is sure.
func TestCastOnWithASyncThatFails(t *testing.T) {
	need(t, "strace")
	for nth := 1; nth <= 4; nth++ {
		w := terminalOn(t, filepath.Join(t.TempDir(), "pieces.store"))
		c := w.command("cast-on", "hat", "../examples/lantern-band.chart")
		traced := exec.Command("strace", "-f", "-o", "/dev/null", "-e", "trace=fdatasync", "-e", fmt.Sprintf("inject=fdatasync:error=EIO:when=%d", nth), c.Path, "cast-on", "hat", "../examples/lantern-band.chart")
		traced.Env = append(c.Env, "GOMAXPROCS=1")
		out, err := traced.CombinedOutput()
		if err != nil {
			assert.Equal(t, 5, codeOf(t, err), string(out))
			assert.Contains(t, string(out), "nothing was saved")
			assert.NoFileExists(t, w.store)
		}
	}
}
