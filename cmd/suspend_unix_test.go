//go:build unix

package cmd

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// TestSuspendedFromOutside suspends the sitting by a signal of another process, as kill
// sends it, and not by a key: the shell gets its terminal as it was, and the signal to go
// on brings the screen back, with the rows that were logged elsewhere meanwhile.
func TestSuspendedFromOutside(t *testing.T) {
	w := hatAt(t)
	file := filepath.Join(w.home, "pid")
	w.run("sh", "-c", `set -m; sh -c 'echo $$ >`+file+`; exec seated follow'; echo the shell is back; read line; fg`)
	w.await("1, ")
	pid := pidIn(t, file)

	require.NoError(t, syscall.Kill(pid, syscall.SIGTSTP))
	w.await("the shell is back")
	assertCanonical(t, w)
	screens := strings.Count(string(w.shownSoFar()), secondScreen)
	require.Equal(t, screens, strings.Count(string(w.shownSoFar()), firstScreen), "the first screen is back")
	w.outside("knit")

	w.press("\n") // fg sends the signal to go on
	w.await(secondScreen)
	w.await("2, ")
	require.NoError(t, syscall.Kill(pid, syscall.SIGCONT), "and one that comes while nothing is suspended draws as well")
	w.await(secondScreen)
	w.await("2, ")
	w.press(" ")
	w.logged(2, "as planned")
	w.press("qq")
	w.await("2 of 40 rounds worked")
	w.stops(0)
}

// TestQuitFromOutsideRestoresTheTerminal ends a sitting by the signals that would end a
// program where it stands.
func TestQuitFromOutsideRestoresTheTerminal(t *testing.T) {
	for _, signal := range []syscall.Signal{syscall.SIGQUIT, syscall.SIGTERM} {
		w := hatAt(t)
		w.run("seated", "follow")
		w.await("1, ")
		require.NoError(t, w.c.Process.Signal(signal))
		w.await(firstScreen)
		w.stops(130)
		require.NotContains(t, string(w.shownSoFar()), "goroutine ")
	}
}

// pidIn reads the number of a process from a file that the process writes.
func pidIn(t *testing.T, file string) int {
	t.Helper()
	var pid int
	require.Eventually(t, func() bool {
		text, _ := os.ReadFile(file)
		n, err := strconv.Atoi(strings.TrimSpace(string(text)))
		pid = n
		return err == nil
	}, 5*time.Second, time.Millisecond)
	return pid
}
