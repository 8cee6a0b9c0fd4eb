package cmd

import (
	"bytes"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// slowed is the program with every one of these system calls begun late.
func (w *terminal) slowed(call string, by time.Duration, args ...string) *exec.Cmd {
	c := w.command(args...)
	inject := "inject=" + call + ":delay_enter=" + by.String()
	traced := exec.Command("strace", append([]string{"-f", "-o", "/dev/null", "-e", "trace=" + call, "-e", inject, c.Path}, args...)...)
	traced.Env = c.Env
	return traced
}

// A store that another terminal begins while one is read in is not replaced: both
// pieces are in it.
func TestImportWhileAnotherTerminalBeginsTheStore(t *testing.T) {
	need(t, "strace")
	file := filepath.Join(t.TempDir(), "all.jsonl")
	terminalOn(t, seededStore(t, planted("hat", 3))).wants(0, "", "store", "export", "-o", file)
	path := filepath.Join(t.TempDir(), "pieces.store")
	w := terminalOn(t, path)
	slow := w.slowed("linkat", time.Second, "store", "import", file, "--yes")
	var stderr bytes.Buffer
	slow.Stderr = &stderr
	require.NoError(t, slow.Start())
	time.Sleep(1500 * time.Millisecond)
	got := w.run("cast-on", "mine", "../examples/lantern-band.chart")
	require.Zero(t, got.code, got.err)
	require.Zero(t, codeOf(t, slow.Wait()), stderr.String())
	assert.Zero(t, w.run("show", "--piece", "mine").code)
	assert.Zero(t, w.run("show", "--piece", "hat").code)
	assert.Equal(t, 2, piecesIn(t, path))
	requireSound(t, path)
}
