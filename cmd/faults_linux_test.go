package cmd

import (
	"bytes"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lockIt takes the store's lock as another process at work on it would.
func lockIt(t testing.TB, path string) (unlock func()) {
	t.Helper()
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	require.NoError(t, err)
	require.NoError(t, syscall.Flock(int(f.Fd()), syscall.LOCK_EX))
	return func() { f.Close() }
}

func TestStoreLockedByAnother(t *testing.T) {
	t.Parallel()
	path := seededStore(t, planted("hat", 3))
	unlock := lockIt(t, path)
	defer unlock()
	for _, args := range [][]string{{"knit"}, {"show"}} {
		start := time.Now()
		terminalOn(t, path).wants(4, "in use by another process", args...)
		assert.Less(t, time.Since(start), 2600*time.Millisecond, args)
	}
}

func TestLockHolderLeaves(t *testing.T) {
	t.Parallel()
	path := seededStore(t, planted("hat", 3))
	unlock := lockIt(t, path)
	time.AfterFunc(500*time.Millisecond, unlock)
	got := terminalOn(t, path).run("knit")
	assert.Zero(t, got.code, got.err)
	assert.Equal(t, 5, eventsOf(t, path))
}

func TestLockHolderIsKilled(t *testing.T) {
	t.Parallel()
	need(t, "flock")
	path := seededStore(t, planted("hat", 3))
	holder := exec.Command("flock", "--no-fork", path, "sleep", "30")
	require.NoError(t, holder.Start())
	time.AfterFunc(500*time.Millisecond, func() { _ = holder.Process.Kill() })
	got := terminalOn(t, path).run("knit")
	assert.Zero(t, got.code, got.err)
	_ = holder.Wait()
}

// need skips a test where a tool is absent.
func need(t testing.TB, tool string) {
	t.Helper()
	if _, err := exec.LookPath(tool); err != nil {
		t.Skipf("%s is not installed", tool)
	}
}

func TestKilledBetweenCommitAndPrint(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	w := terminalOn(t, path)
	r, out := fullPipe(t)
	c := w.command("knit", "--row", "4")
	c.Stdout = out
	require.NoError(t, c.Start())
	out.Close()
	require.Eventually(t, func() bool { return eventsOf(t, path) == 5 }, 5*time.Second, time.Millisecond)
	require.NoError(t, c.Process.Kill())
	_ = c.Wait()
	r.Close()
	w.wants(1, "round 4 is already logged", "knit", "--row", "4")
	assert.Equal(t, 5, eventsOf(t, path))
}

// fullPipe is a pipe in which nothing more fits.
func fullPipe(t *testing.T) (r, out *os.File) {
	t.Helper()
	r, out, err := os.Pipe()
	require.NoError(t, err)
	require.NoError(t, out.SetWriteDeadline(time.Now().Add(50*time.Millisecond)))
	_, err = out.Write(make([]byte, 1<<20))
	require.ErrorIs(t, err, os.ErrDeadlineExceeded)
	require.NoError(t, out.SetWriteDeadline(time.Time{}))
	return r, out
}

func TestTwoTerminalsRecordTheSameRow(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	for row := 4; row < 14; row++ {
		var codes [2]int
		var both sync.WaitGroup
		for i := range codes {
			both.Go(func() { codes[i] = codeOf(t, terminalOn(t, path).command("knit", "--row", fmt.Sprint(row)).Run()) })
		}
		both.Wait()
		assert.ElementsMatch(t, []int{0, 1}, codes[:])
		assert.Equal(t, row+1, eventsOf(t, path))
	}
}

func TestTwoTerminals(t *testing.T) {
	path := forTwo(t)
	worst := twoWrite(t, path, rounds(20, 200))
	t.Logf("the longest step took %v, starting the process included", worst)
}

func TestReadsWhileTwoWrite(t *testing.T) {
	path := forTwo(t)
	done := make(chan struct{})
	var readers sync.WaitGroup
	readers.Go(func() { readUntil(t, path, done) })
	worst := twoWrite(t, path, rounds(20, 200))
	close(done)
	readers.Wait()
	t.Logf("the longest step took %v, starting the process included", worst)
}

// forTwo is a store with a piece long enough for two terminals, planned and backed up
// for the day.
func forTwo(t *testing.T) string {
	t.Helper()
	path := seededStore(t, seed{name: "hat", times: 40})
	require.Zero(t, terminalOn(t, path).run("knit").code)
	return path
}

// twoWrite has two terminals take so many steps each: none is lost. It returns how
// long the longest took.
func twoWrite(t *testing.T, path string, each int) time.Duration {
	t.Helper()
	before := eventsOf(t, path)
	var both sync.WaitGroup
	var worst [2]time.Duration
	for i := range worst {
		both.Go(func() {
			for range each {
				start := time.Now()
				assert.Zero(t, codeOf(t, terminalOn(t, path).command("knit", "--quiet").Run()))
				worst[i] = max(worst[i], time.Since(start))
			}
		})
	}
	both.Wait()
	assert.Equal(t, before+2*each, eventsOf(t, path))
	requireSound(t, path)
	return max(worst[0], worst[1])
}

// readUntil reads again and again: always a state that existed, none older than one
// seen before.
func readUntil(t *testing.T, path string, done <-chan struct{}) {
	last := 0
	for {
		select {
		case <-done:
			return
		default:
		}
		var out bytes.Buffer
		c := terminalOn(t, path).command("show", "--plain")
		c.Stdout = &out
		assert.Zero(t, codeOf(t, c.Run()))
		var row int
		_, err := fmt.Sscanf(out.String(), "Round %d", &row)
		if err != nil {
			_, err = fmt.Sscanf(out.String(), "%d:", &row)
		}
		assert.NoError(t, err, out.String())
		assert.GreaterOrEqual(t, row, last)
		last = row
	}
}

// oddFiles makes a pipe, a socket and names a device.
func oddFiles(t *testing.T) []string {
	t.Helper()
	folder := t.TempDir()
	pipe, socket := filepath.Join(folder, "pipe"), filepath.Join(folder, "socket")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	listener, err := net.Listen("unix", socket)
	require.NoError(t, err)
	t.Cleanup(func() { listener.Close() })
	return []string{pipe, socket, "/dev/zero", "/dev/null"}
}

func TestPipeSocketAndDeviceAsStoreOrChart(t *testing.T) {
	good := terminalOn(t, seededStore(t, planted("hat", 3)))
	for _, path := range oddFiles(t) {
		for _, args := range [][]string{{"knit"}, {"show"}, {"store", "check"}, {"cast-on", "cap", "../examples/lantern-band.chart"}} {
			start := time.Now()
			got := terminalOn(t, path).run(args...)
			assert.Equal(t, 5, got.code, "%s as store: %v\n%s", path, args, got.err)
			assert.Less(t, time.Since(start), time.Second)
		}
		start := time.Now()
		good.wants(3, "nothing was saved", "cast-on", "cap", path)
		assert.Less(t, time.Since(start), time.Second)
	}
}

func TestAnswerThatCannotBePrinted(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	w := terminalOn(t, path)
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	require.NoError(t, err)
	defer full.Close()
	r, closed, err := os.Pipe()
	require.NoError(t, err)
	r.Close()
	defer closed.Close()
	for i, out := range []io.Writer{full, closed} {
		c := w.command("knit")
		var stderr bytes.Buffer
		c.Stdout, c.Stderr = out, &stderr
		assert.Equal(t, 8, codeOf(t, c.Run()))
		assert.True(t, strings.HasPrefix(stderr.String(), "strandwise: saved, but"), stderr.String())
		assert.Equal(t, 5+i, eventsOf(t, path))
	}
}

// TestNoFileTakesThePlaceOfAClosedStdout starts the program without some of its
// three streams. Before the program begins, Go's runtime opens /dev/null in the place
// of each that is missing, so that no file opened later, the store least of all, gets
// its number and the answer written into it. What is left cannot be told from a
// `>/dev/null` of the caller, and so is no error.
func TestNoFileTakesThePlaceOfAClosedStdout(t *testing.T) {
	need(t, "strace")
	for _, closed := range []string{">&-", "2>&-", "<&- >&-", "<&- >&- 2>&-"} {
		for _, command := range []string{"knit", "show", "store backup", "cast-on cowl ../examples/lantern-band.chart"} {
			path := seededStore(t, planted("hat", 3))
			record := filepath.Join(t.TempDir(), "record")
			c := exec.Command("strace", "-f", "-o", record, "-e", "trace=openat,dup,dup2,dup3", "sh", "-c", "exec strandwise "+command+" "+closed)
			c.Env = terminalOn(t, path).command().Env
			assert.Zero(t, codeOf(t, c.Run()), "%s %s", command, closed)
			calls, err := os.ReadFile(record)
			require.NoError(t, err)
			assert.Equal(t, strings.Count(closed, "&-"), lowNumbers(t, string(calls)), "%s %s\n%s", command, closed, calls)
			requireSound(t, path)
			if command == "knit" {
				assert.Equal(t, 5, eventsOf(t, path))
			}
		}
	}
}

// lowNumbers counts the files a program opened as its input, output or error stream,
// all of which are /dev/null.
func lowNumbers(t *testing.T, calls string) (n int) {
	t.Helper()
	_, calls, ok := strings.Cut(calls, "/dev/null")
	require.True(t, ok)
	for _, line := range strings.Split(`"/dev/null`+calls, "\n") {
		for _, low := range []string{" = 0", " = 1", " = 2"} {
			if strings.HasSuffix(line, low) {
				n++
				assert.Contains(t, line, `"/dev/null"`)
			}
		}
	}
	return n
}
