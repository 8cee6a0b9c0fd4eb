//go:build measure && linux

package store_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// The measurement of reads and steps against a bare Go process, in turn, pair by
// pair, each a process of its own:
//
//	go test -tags measure -run TestFloor -v ./store
//
// A read is held against a process that prints a line; a step against one that
// prints a line and writes 4 KiB in place twice, each followed by fdatasync, the
// least that two barriers cost. The folder is a temporary one: set TMPDIR to
// measure another disk. Quote the ratios, not the milliseconds.

const pairs = 80

// built builds a program of testdata.
func built(t *testing.T, name string) string {
	t.Helper()
	out := filepath.Join(t.TempDir(), name)
	said, err := exec.Command("go", "build", "-o", out, "./testdata/"+name).CombinedOutput()
	require.NoError(t, err, string(said))
	return out
}

// timed runs a program and returns how long it took.
func timed(t *testing.T, program string, args ...string) time.Duration {
	t.Helper()
	c := exec.Command(program, args...)
	began := time.Now()
	_, err := c.Output()
	took := time.Since(began)
	require.NoError(t, err)
	return took
}

// sized is a store of so many pieces with so many events each.
func sized(t *testing.T, pieces, events int) *store.Store {
	t.Helper()
	s := fresh(t)
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
		for range pieces {
			id, err := tx.NewPiece([]byte("a piece and what is known of it, charts and all"))
			if err != nil {
				return err
			}
			for i := range events {
				if _, err := tx.Append(id, event(fmt.Sprintf("row %d, its catches and what was used %030d", i, i))); err != nil {
					return err
				}
			}
		}
		return nil
	}))
	return s
}

// compare prints the paired ratio of two programs.
func compare(t *testing.T, name string, ours, floor func() time.Duration) {
	t.Helper()
	var ratios []float64
	var a, b []time.Duration
	for range pairs {
		a, b = append(a, ours()), append(b, floor())
		ratios = append(ratios, float64(a[len(a)-1])/float64(b[len(b)-1]))
	}
	slices.Sort(ratios)
	slices.Sort(a)
	slices.Sort(b)
	t.Logf("%-34s ratio median %.2f p95 %.2f max %.2f   (%v against %v)", name,
		ratios[pairs/2], ratios[pairs*95/100], ratios[pairs-1], a[pairs/2].Round(time.Microsecond), b[pairs/2].Round(time.Microsecond))
}

func TestFloor(t *testing.T) {
	bare, step := built(t, "bare"), built(t, "step")
	block := filepath.Join(t.TempDir(), "block")
	require.NoError(t, os.WriteFile(block, make([]byte, 2*page), 0o600))
	twoWrites := func() time.Duration { return timed(t, bare, block) }
	line := func() time.Duration { return timed(t, bare) }
	for _, size := range []struct{ pieces, events int }{{1, 300}, {1, 1000}, {1, 5000}, {20, 1000}, {20, 5000}, {1000, 300}} {
		s := sized(t, size.pieces, size.events)
		name := fmt.Sprintf("%d x %d events, ", size.pieces, size.events)
		ours := func(what string) func() time.Duration {
			return func() time.Duration { return timed(t, step, what, s.Path(), "1") }
		}
		compare(t, name+"step / floor B", ours("step"), twoWrites)
		compare(t, name+"read / bare", ours("read"), line)
		compare(t, name+"list / bare", ours("list"), line)
	}
}
