package cmd

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var barrierCall = regexp.MustCompile(`(?m)\b(fsync|fdatasync|sync|sync_file_range|msync)\(`)

// barriers runs the program under strace and counts the disk barriers it makes.
func barriers(t *testing.T, env []string, args ...string) int {
	t.Helper()
	trace := filepath.Join(t.TempDir(), "trace")
	strace := []string{"-f", "-qq", "-e", "trace=fsync,fdatasync,sync,sync_file_range,msync", "-o", trace, lookPath(t, "strandwise")}
	c := exec.Command("strace", append(strace, args...)...)
	c.Env = append(os.Environ(), env...)
	out, err := c.CombinedOutput()
	require.NoError(t, err, string(out))
	calls, err := os.ReadFile(trace)
	require.NoError(t, err)
	return len(barrierCall.FindAllString(string(calls), -1))
}

// A row shown makes no disk barrier; a row logged makes two, or three when the file
// grows. The day's backup, made with the cast-on here, is counted apart.
func TestDiskBarriersOfAStep(t *testing.T) {
	if _, err := exec.LookPath("strace"); err != nil {
		t.Skip("strace is not installed: disk barriers cannot be counted")
	}
	folder := t.TempDir()
	env := []string{"HOME=" + folder, "STRANDWISE_STORE=" + filepath.Join(folder, "pieces.store"), "STRANDWISE_PIECE="}
	run := func(args ...string) int { return barriers(t, env, args...) }
	assert.Positive(t, run("cast-on", "hat", "../examples/lantern-band.chart@4", "--gauge", "20x22/4in"))
	if _, err := os.Stat(filepath.Join(folder, "pieces.store.backups")); err != nil {
		run("knit") // the first step of the day makes the backup
	}
	for range 3 {
		assert.Zero(t, run("show"))
		assert.Zero(t, run("resume"))
		steps := run("knit")
		assert.True(t, steps == 2 || steps == 3, "%d barriers", steps)
		assert.Zero(t, run("review"))
	}
	assert.Zero(t, run(strings.Fields("locate 3 oat 1 fjord")...))
	steps := run("note", "still here")
	assert.True(t, steps == 2 || steps == 3, "%d barriers", steps)
}
