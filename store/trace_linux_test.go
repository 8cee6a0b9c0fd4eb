package store_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// traced runs a child under strace with more arguments for it, and returns the
// child's exit status (-1 for a kill) and the trace.
func traced(t testing.TB, options []string, name string, args ...string) (status int, trace string) {
	t.Helper()
	tool, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("strace is not installed: apt-get install strace")
	}
	out := filepath.Join(t.TempDir(), "trace")
	c := child(ctx, name, args...)
	c.Args = append(append([]string{tool, "-f", "-o", out}, options...), c.Args...)
	c.Path = tool
	said, err := c.CombinedOutput()
	if c.ProcessState == nil {
		require.NoError(t, err)
	}
	text, err := os.ReadFile(out)
	require.NoError(t, err)
	if strings.Contains(string(said), "ptrace") {
		t.Skip("strace may not trace here: " + string(said))
	}
	require.NotContains(t, string(said), "goroutine ", "a Go trace")
	return c.ProcessState.ExitCode(), string(text)
}

var barrier = regexp.MustCompile(`^(fdatasync|fsync|msync|sync_file_range|syncfs|sync)\(.*= 0$`)

// barriersIn lists the barriers of a trace.
func barriersIn(trace string) []string {
	var all []string
	for _, call := range calls(trace) {
		if barrier.MatchString(call) {
			all = append(all, call)
		}
	}
	return all
}

const barriers = "trace=fdatasync,fsync,msync,sync_file_range,syncfs,sync,ftruncate"

func TestBarriersOfAStepAndOfARead(t *testing.T) {
	s := fresh(t)
	newPiece(t, s, "pier", "one")
	for range 12 {
		status, trace := traced(t, []string{"-e", barriers}, "steps", s.Path(), "1", "1", "row")
		require.Zero(t, status)
		want := 2
		if strings.Contains(trace, "ftruncate(") {
			want = 3
		}
		assert.Len(t, barriersIn(trace), want, trace)
	}
	status, trace := traced(t, []string{"-e", barriers}, "read", s.Path(), "3")
	require.Zero(t, status)
	assert.Empty(t, barriersIn(trace), trace)
	assert.NotContains(t, trace, "ftruncate")
}

func TestSyncThatFails(t *testing.T) {
	for nth := 1; nth <= 2; nth++ {
		for !syncFails(t, nth) {
		}
	}
}

// syncFails lets a sync of a step fail, by its number, and reports whether it did:
// strace counts each thread's calls by themselves, and the second may come from another.
func syncFails(t *testing.T, nth int) bool {
	t.Helper()
	s := fresh(t)
	id := newPiece(t, s, "pier", "one")
	fault := fmt.Sprintf("inject=fdatasync:error=EIO:when=%d", nth)
	status, trace := traced(t, []string{"-e", "trace=fdatasync", "-e", fault}, "steps", s.Path(), "1", "1", "row")
	if !strings.Contains(trace, "INJECTED") {
		return false
	}
	assert.Equal(t, 7, status)
	requireKept(t, s, id, 1, 1)
	appendEvent(t, s, id, "after")
	return true
}

// fatal are the system calls at which a child is killed, one after the other.
var fatal = []string{"pwrite64", "fdatasync", "fsync", "ftruncate", "linkat", "unlinkat", "renameat", "write", "flock"}

// killedAtEach runs a child again and again, killed at the first, second, third
// call of each kind until it gets through, and looks at what is left each time.
func killedAtEach(t *testing.T, prepare func() (name string, args []string), look func()) {
	t.Helper()
	for _, call := range fatal {
		for nth := 1; ; nth++ {
			require.Less(t, nth, 400)
			name, args := prepare()
			fault := fmt.Sprintf("inject=%s:signal=KILL:when=%d", call, nth)
			status, _ := traced(t, []string{"-e", "trace=" + call, "-e", fault}, name, args...)
			look()
			if status == 0 {
				break
			}
		}
	}
}

func TestKilledAtEachCallOfAStep(t *testing.T) {
	t.Parallel()
	var s *store.Store
	prepare := func() (string, []string) {
		s = fresh(t)
		newPiece(t, s, "pier", "one")
		return "steps", []string{s.Path(), "1", "1", "row"}
	}
	killedAtEach(t, prepare, func() { requireKept(t, s, 1, 1, 1) })
}

func TestKilledAtEachCallOfACreation(t *testing.T) {
	t.Parallel()
	var s *store.Store
	prepare := func() (string, []string) {
		s = at(filepath.Join(t.TempDir(), "quay", "pier.store"))
		return "create", []string{s.Path()}
	}
	killedAtEach(t, prepare, func() {
		if _, err := os.Lstat(s.Path()); err == nil {
			requireSound(t, s)
			return
		}
		require.NoError(t, s.Create(ctx))
	})
}

func TestKilledAtEachCallOfARestore(t *testing.T) {
	t.Parallel()
	var s *store.Store
	prepare := func() (string, []string) {
		s = fresh(t)
		newPiece(t, s, "pier", "one")
		made, err := s.Backup(ctx, store.ReasonAsked)
		require.NoError(t, err)
		appendEvent(t, s, 1, "two")
		return "restore", []string{s.Path(), made.Path}
	}
	killedAtEach(t, prepare, func() {
		requireSound(t, s)
		found := payloads(t, s, 1)
		aside, err := filepath.Glob(s.Path() + ".aside-*")
		require.NoError(t, err)
		if len(found) == 1 {
			require.Len(t, aside, 1)
			assert.Equal(t, []string{"one", "two"}, payloads(t, at(aside[0]), 1))
		} else {
			assert.Equal(t, []string{"one", "two"}, found)
		}
	})
}

func TestKilledAtEachCallOfABackup(t *testing.T) {
	t.Parallel()
	var s *store.Store
	prepare := func() (string, []string) {
		s = fresh(t)
		newPiece(t, s, "pier", "one")
		return "backup", []string{s.Path()}
	}
	killedAtEach(t, prepare, func() {
		all, err := s.Backups()
		require.NoError(t, err)
		for _, b := range all {
			requireSound(t, at(b.Path))
		}
		requireSound(t, s)
	})
}
