package cmd

import (
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"

	"strandwise/cmd/answer"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// knitting has two terminals knit until they are told to stop. begun says after
// which restore a step begins; of the steps acknowledged it counts all, and those
// begun after the last restore.
type knitting struct {
	restores    atomic.Int64
	all         atomic.Int64
	sinceLatest [2]int // of each terminal
}

// steps takes step after step until stop is closed, and a few after that.
func (k *knitting) steps(t *testing.T, i int, path string, stop <-chan struct{}) {
	w, latest := terminalOn(t, path), int64(-1)
	for left := 5; left > 0; {
		select {
		case <-stop:
			left--
		default:
		}
		if now := k.restores.Load(); now != latest {
			latest, k.sinceLatest[i] = now, 0
		}
		if got := w.run("knit", "--quiet"); assert.Zero(t, got.code, got.err) {
			k.all.Add(1)
			k.sinceLatest[i]++
		}
	}
}

// TestTwoTerminalsUnderARestoreLoop restores one backup again and again while two
// terminals knit. A restore takes back the steps before it, as it should, but keeps
// them beside the store; so each acknowledged step must be in the store or in one put
// aside, and each begun after the last restore must be in the store.
func TestTwoTerminalsUnderARestoreLoop(t *testing.T) {
	path := forTwo(t)
	made := mustJSON[answer.BackedUp](t, path, 0, "store", "backup")
	base := eventsOf(t, path)
	var k knitting
	stop := make(chan struct{})
	var both sync.WaitGroup
	for i := range 2 {
		both.Go(func() { k.steps(t, i, path, stop) })
	}
	restores := 0
	manyRounds(t, 8, 100, func() {
		got := terminalOn(t, path).run("store", "restore", made.Path, "--yes", "--quiet")
		require.Zero(t, got.code, got.err)
		restores++
		k.restores.Add(1)
	})
	close(stop)
	both.Wait()
	requireSound(t, path)
	assert.GreaterOrEqual(t, eventsOf(t, path)-base, k.sinceLatest[0]+k.sinceLatest[1])
	asides, err := filepath.Glob(path + ".aside-*")
	require.NoError(t, err)
	assert.Len(t, asides, restores)
	kept := eventsOf(t, path) - base
	for _, aside := range asides {
		requireSound(t, aside)
		kept += eventsOf(t, aside) - base
	}
	assert.EqualValues(t, k.all.Load(), kept)
	t.Logf("%d steps acknowledged, %d of them begun after the last of %d restores", k.all.Load(), k.sinceLatest[0]+k.sinceLatest[1], restores)
}
