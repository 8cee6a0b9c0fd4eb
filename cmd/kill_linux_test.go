package cmd

import (
	"bytes"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// The tests of this file kill the program at random moments, a few times in a
// usual run, 500 times each with `go test -tags faults`. STRANDWISE_TEST_SECONDS
// is how long each may take, 60 when it is not set; rounds that do not fit are left
// out, and the log says how many were made.

// manyRounds runs a round many times within the budget.
func manyRounds(t *testing.T, few, many int, round func()) {
	t.Helper()
	budget := 60 * time.Second
	if text := os.Getenv("STRANDWISE_TEST_SECONDS"); text != "" {
		n, err := strconv.Atoi(text)
		require.NoError(t, err)
		budget = time.Duration(n) * time.Second
	}
	start, made := time.Now(), 0
	for ; made < rounds(few, many) && time.Since(start) < budget; made++ {
		round()
		if t.Failed() {
			break
		}
	}
	t.Logf("%d rounds in %v", made, time.Since(start).Round(time.Millisecond))
}

// killedStream starts a stream of steps and returns what kills it and then counts
// the steps it acknowledged.
func killedStream(t *testing.T, w *terminal) (kill func() int) {
	t.Helper()
	c := w.command()
	c.Path, c.Args = lookPath(t, "stream"), []string{"stream"}
	var out bytes.Buffer
	c.Stdout = &out
	require.NoError(t, c.Start())
	return func() int {
		require.NoError(t, c.Process.Kill())
		_ = c.Wait()
		return strings.Count(out.String(), acknowledgement+"\n")
	}
}

func lookPath(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	require.NoError(t, err)
	return path
}

// moment sleeps for a random time, at most so long.
func moment(most time.Duration) { time.Sleep(rand.N(most)) }

func TestKilledInAStreamOfSteps(t *testing.T) {
	t.Parallel()
	path := seededStore(t, planted("hat", 3))
	w := terminalOn(t, path)
	manyRounds(t, 8, 500, func() {
		before := eventsOf(t, path)
		kill := killedStream(t, w)
		moment(120 * time.Millisecond)
		acknowledged := kill()
		found := eventsOf(t, path) - before
		assert.Contains(t, []int{acknowledged, acknowledged + 1}, found)
		requireSound(t, path)
	})
}

func TestTwoStreamsKilled(t *testing.T) {
	t.Parallel()
	path := seededStore(t, planted("hat", 3))
	w := terminalOn(t, path)
	manyRounds(t, 8, 500, func() {
		before := eventsOf(t, path)
		one, other := killedStream(t, w), killedStream(t, w)
		moment(120 * time.Millisecond)
		acknowledged := one()
		moment(20 * time.Millisecond)
		acknowledged += other()
		found := eventsOf(t, path) - before
		assert.GreaterOrEqual(t, found, acknowledged)
		assert.LessOrEqual(t, found, acknowledged+2)
		requireSound(t, path)
	})
}

// nextStep is a step that the piece can take: a row, or ripping when all are
// worked.
func nextStep(row *int) []string {
	if *row >= 55 {
		*row -= 50
		return []string{"rip", "50", "--yes"}
	}
	*row++
	return []string{"knit"}
}

// endedSteps runs single steps, each ended by a signal after a random time.
func endedSteps(t *testing.T, signals []os.Signal) {
	t.Parallel()
	path := seededStore(t, planted("hat", 3))
	w := terminalOn(t, path)
	row, n := 3, 0
	manyRounds(t, 20, 500, func() {
		before, rowBefore := eventsOf(t, path), row
		c := w.command(nextStep(&row)...)
		var stderr bytes.Buffer
		c.Stderr = &stderr
		require.NoError(t, c.Start())
		moment(30 * time.Millisecond)
		_ = c.Process.Signal(signals[n%len(signals)])
		n++
		acknowledged := 0
		if c.Wait(); c.ProcessState.ExitCode() == 0 {
			acknowledged = 1
		}
		found := eventsOf(t, path) - before
		assert.GreaterOrEqual(t, found, acknowledged)
		assert.LessOrEqual(t, found, 1)
		if strings.Contains(stderr.String(), "nothing was saved") {
			assert.Zero(t, found, stderr.String())
		}
		assert.NotContains(t, stderr.String(), "goroutine ")
		if found == 0 {
			row = rowBefore
		}
		requireSound(t, path)
	})
}

func TestKilledSteps(t *testing.T) { endedSteps(t, []os.Signal{os.Kill}) }

func TestInterruptedSteps(t *testing.T) {
	endedSteps(t, []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP})
}

func TestKilledCastOn(t *testing.T) {
	t.Parallel()
	manyRounds(t, 8, 500, func() {
		path := filepath.Join(t.TempDir(), "pieces.store")
		w := terminalOn(t, path)
		c := w.command("cast-on", "hat", "../examples/lantern-band.chart")
		require.NoError(t, c.Start())
		moment(60 * time.Millisecond)
		_ = c.Process.Kill()
		_ = c.Wait()
		if there, err := store.At(path, store.Options{}).Exists(); err == nil && there {
			requireSound(t, path)
		}
		code := w.run("cast-on", "hat", "../examples/lantern-band.chart").code
		assert.Contains(t, []int{0, 1}, code, "1: it was cast on before the kill")
		requireSound(t, path)
		assert.Equal(t, 1, eventsOf(t, path))
	})
}

func TestKilledImport(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "all.jsonl")
	from := seededStore(t, planted("hat", 50), planted("cowl", 40))
	terminalOn(t, from).wants(0, "", "store", "export", "-o", file)
	manyRounds(t, 8, 500, func() {
		path := filepath.Join(t.TempDir(), "pieces.store")
		if rand.N(2) == 0 {
			path = seededStore(t, planted("cap", 2))
		}
		w := terminalOn(t, path)
		c := w.command("store", "import", file, "--yes")
		require.NoError(t, c.Start())
		moment(80 * time.Millisecond)
		_ = c.Process.Kill()
		_ = c.Wait()
		if there, err := store.At(path, store.Options{}).Exists(); err == nil && there {
			requireSound(t, path)
			assert.Contains(t, []int{1, 2, 3}, piecesIn(t, path))
		}
		assert.Zero(t, w.run("store", "import", file, "--yes").code)
		requireSound(t, path)
	})
}

func piecesIn(t *testing.T, path string) (n int) {
	t.Helper()
	require.NoError(t, store.At(path, store.Options{}).View(t.Context(), func(tx *store.Tx) error {
		n = len(tx.Pieces())
		return nil
	}))
	return n
}
