package store_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// tailOf is the number of the last event of a piece, after a full read.
func tailOf(t testing.TB, s *store.Store, id store.PieceID) uint64 {
	t.Helper()
	return uint64(len(payloads(t, s, id)))
}

// requireKept demands acknowledged <= found <= acknowledged + extra.
func requireKept(t testing.TB, s *store.Store, id store.PieceID, acknowledged, extra uint64) uint64 {
	t.Helper()
	found := tailOf(t, s, id)
	require.GreaterOrEqual(t, found, acknowledged)
	require.LessOrEqual(t, found, acknowledged+extra)
	requireSound(t, s)
	return found
}

func TestKilledInAStreamOfSteps(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	id := newPiece(t, s, "pier")
	known := uint64(0)
	for range rounds(15, 500) {
		for _, n := range killed(t, 40*time.Millisecond, "steps", s.Path(), "1", "0", "row") {
			require.Equal(t, known+1, n)
			known = n
		}
		known = requireKept(t, s, id, known, 1)
	}
}

func TestKilledInASingleStep(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	id := newPiece(t, s, "pier")
	known := uint64(0)
	for range rounds(25, 500) {
		for _, n := range killed(t, 8*time.Millisecond, "steps", s.Path(), "1", "1", "row") {
			known = n
		}
		known = requireKept(t, s, id, known, 1)
	}
}

func TestEndedBySignals(t *testing.T) {
	t.Parallel()
	// A child does not ignore what its parent handles, even when these tests were started by
	// what ignores hang-ups.
	signal.Notify(make(chan os.Signal, 1), syscall.SIGHUP)
	s := fresh(t)
	id := newPiece(t, s, "pier")
	known := uint64(0)
	for round := range rounds(9, 150) {
		sent := []os.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP}[round%3]
		for _, n := range ended(t, sent, 40*time.Millisecond, "steps", s.Path(), "1", "0", "row") {
			known = n
		}
		known = requireKept(t, s, id, known, 1)
	}
}

func TestTwoWritersKilled(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	id := newPiece(t, s, "pier")
	known := uint64(0)
	for range rounds(10, 500) {
		var numbers [2][]uint64
		var both sync.WaitGroup
		for w := range numbers {
			both.Go(func() {
				numbers[w] = killed(t, 40*time.Millisecond, "steps", s.Path(), "1", "0", fmt.Sprint("writer ", w))
			})
		}
		both.Wait()
		seen := map[uint64]bool{}
		acknowledged := known
		for _, n := range append(numbers[0], numbers[1]...) {
			require.False(t, seen[n], "number %d was given twice", n)
			require.Greater(t, n, known)
			seen[n] = true
			acknowledged = max(acknowledged, n)
		}
		known = requireKept(t, s, id, acknowledged, 2)
	}
}

func TestKilledDuringCreation(t *testing.T) {
	t.Parallel()
	for range rounds(25, 500) {
		path := filepath.Join(t.TempDir(), "quay", "pier.store")
		killed(t, 8*time.Millisecond, "create", path)
		s := at(path)
		exists, err := s.Exists()
		require.NoError(t, err)
		if exists {
			requireSound(t, s)
			newPiece(t, s, "pier", "one")
			continue
		}
		_, err = contents(s)
		require.Equal(t, store.ClassMissing, store.ClassOf(err))
		require.NoError(t, s.Create(ctx), "a leftover must not be in the way")
	}
}

func TestKilledDuringBackup(t *testing.T) {
	t.Parallel()
	s, _ := long(t, 2000)
	for range rounds(15, 200) {
		killed(t, 12*time.Millisecond, "backup", s.Path())
	}
	all, err := s.Backups()
	require.NoError(t, err)
	for _, b := range all {
		requireSound(t, at(b.Path))
	}
	requireSound(t, s)
}

func TestKilledDuringImport(t *testing.T) {
	t.Parallel()
	source, id := long(t, 2000)
	var text bytes.Buffer
	_, err := source.Export(ctx, &text)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "pier.export")
	require.NoError(t, os.WriteFile(file, text.Bytes(), 0o600))
	began := time.Now()
	status, said := run(t, "import", fresh(t).Path(), file)
	require.Zero(t, status, said)
	usual := time.Since(began)
	none, all := 0, 0
	for range rounds(15, 200) {
		s := fresh(t)
		killed(t, usual*5/4, "import", s.Path(), file)
		report := requireSound(t, s)
		switch report.Contents.Events {
		case 0:
			none++
		case 2000:
			all++
			require.Equal(t, payloads(t, source, id), payloads(t, s, 1))
		default:
			t.Fatalf("%d of 2000 events were imported", report.Contents.Events)
		}
	}
	t.Logf("nothing %d times, everything %d times", none, all)
}

func TestTwoTerminalsAndReadersLoseNothing(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	id := newPiece(t, s, "pier")
	count := rounds(60, 200)
	var all sync.WaitGroup
	var mutex sync.Mutex
	var numbers []uint64
	worst := uint64(0)
	for w := range 2 {
		all.Go(func() {
			out, err := child(ctx, "steps", s.Path(), "1", fmt.Sprint(count), fmt.Sprint("writer ", w)).Output()
			assert.NoError(t, err)
			mutex.Lock()
			defer mutex.Unlock()
			for _, text := range strings.Split(strings.TrimSpace(string(out)), "\n") {
				var n, micros uint64
				_, err := fmt.Sscan(text, &n, &micros)
				assert.NoError(t, err)
				numbers = append(numbers, n)
				worst = max(worst, micros)
			}
		})
	}
	all.Go(func() {
		status, said := run(t, "read", s.Path(), fmt.Sprint(count))
		assert.Zero(t, status, said)
	})
	all.Wait()
	seen := map[uint64]bool{}
	for _, n := range numbers {
		assert.False(t, seen[n], "number %d was given twice", n)
		seen[n] = true
	}
	assert.Len(t, numbers, 2*count)
	assert.Equal(t, uint64(2*count), tailOf(t, s, id))
	requireSound(t, s)
	t.Logf("worst step: %d µs", worst)
}

func TestLockHeldTooLong(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	newPiece(t, s, "pier", "one")
	c := holder(t, s, "5s")
	defer c.Process.Kill()
	before, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	began := time.Now()
	_, err = contents(s)
	took := time.Since(began)
	require.Equal(t, store.ClassBusy, store.ClassOf(err))
	assert.Less(t, took, 2100*time.Millisecond)
	assert.GreaterOrEqual(t, took, 2*time.Second)
	err = s.Update(ctx, func(*store.Tx) error { return nil })
	require.Equal(t, store.ClassBusy, store.ClassOf(err))
	after, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	assert.Equal(t, before, after)
}

func TestLockHolderLeaves(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	id := newPiece(t, s, "pier", "one")
	holder(t, s, "500ms")
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error { _, err := tx.Append(id, event("two")); return err }))
	c := holder(t, s, "1m")
	time.AfterFunc(200*time.Millisecond, func() { c.Process.Kill() })
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error { _, err := tx.Append(id, event("three")); return err }))
	assert.Equal(t, []string{"one", "two", "three"}, payloads(t, s, id))
}

// holder starts a child that holds the lock, and waits until it has it.
func holder(t *testing.T, s *store.Store, wait string) *exec.Cmd {
	t.Helper()
	c := child(ctx, "hold", s.Path(), wait)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	t.Cleanup(func() { c.Process.Kill(); c.Wait() })
	held := make([]byte, 5)
	_, err = out.Read(held)
	require.NoError(t, err)
	return c
}
