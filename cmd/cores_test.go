package cmd

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestSameBytesOnOneAndTwoCores runs the program as a process of one core and of two:
// it must write the same bytes each time.
func TestSameBytesOnOneAndTwoCores(t *testing.T) {
	home := t.TempDir()
	require.NoError(t, copyCharts(home))
	small := filepath.Join(home, "three.chart")
	require.NoError(t, os.WriteFile(small, []byte(twoYarns+"yarn: C kelp #7E9455\nrows:\n"+
		"AAAAAAABBBBBBBCCCCCC\nBBBCCCCCCCAAAAAAAABB\nAAAAAAAABAAAAAAACAAA\n"), 0o600))
	example := func(name string) string { return filepath.Join(home, name) }
	for _, args := range [][]string{
		{example("lantern-band.chart"), "--repeats", "6", "--times", "2"},
		{example("mooring-mitten.chart"), "--limit", "4", "--method", "twist"},
		{example("pier-panel.chart"), "--flat"},
		{small, "--repeats", "3", "--limit", "4"},
	} {
		want := ""
		for run := range 4 {
			w := terminalOn(t, filepath.Join(home, "store"))
			w.env = []string{fmt.Sprintf("GOMAXPROCS=%d", 1+run%2)}
			got := w.run(append([]string{"floats", "--json"}, args...)...)
			require.Zero(t, got.code, got.err)
			require.Contains(t, got.out, `"catches":[{`)
			if run == 0 {
				want = got.out
			}
			assert.Equal(t, want, got.out, "%v, run %d", args, run)
		}
	}
}
