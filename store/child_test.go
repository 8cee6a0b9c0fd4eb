package store_test

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// childEnv names what this binary does instead of its tests when it is started
// again as a child.
const childEnv = "STORE_TEST_CHILD"

func TestMain(m *testing.M) {
	name := os.Getenv(childEnv)
	if name == "" {
		os.Exit(m.Run())
	}
	status, err := children[name](os.Args[1:])
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
	}
	os.Exit(status)
}

// children are the programs a child can be. Each returns its exit status.
var children = map[string]func(args []string) (int, error){
	"check":  check,
	"create": func(a []string) (int, error) { return exit(at(a[0]).Create(ctx)) },
	"steps":  steps,
	"read":   reads,
	"hold":   hold,
	"backup": func(a []string) (int, error) { _, err := at(a[0]).Backup(ctx, store.ReasonAsked); return exit(err) },
	"import": importFile,
	"restore": func(a []string) (int, error) {
		_, err := at(a[0]).Restore(ctx, a[1], store.RestoreOptions{})
		return exit(err)
	},
	"piece": func(a []string) (int, error) {
		return exit(at(a[0]).Update(ctx, func(tx *store.Tx) error { _, err := tx.NewPiece([]byte("pier")); return err }))
	},
	"raise": func(a []string) (int, error) {
		return exit(store.WithInventedRaise(at(a[0])).View(ctx, func(*store.Tx) error { return nil }))
	},
	"bare": bare,
}

// at is the store a child works on.
func at(path string) *store.Store {
	return store.At(path, store.Options{Writer: func() string { return "child" }})
}

// exit turns an error into the exit status the command line would give.
func exit(err error) (int, error) {
	if err == nil {
		return 0, nil
	}
	statuses := map[store.Class]int{
		store.ClassMissing: 5, store.ClassExists: 1, store.ClassBusy: 4, store.ClassUnusable: 5, store.ClassDamaged: 6,
		store.ClassForeign: 6, store.ClassNewer: 6, store.ClassUnknown: 7, store.ClassBadInput: 3, store.ClassConflict: 1,
	}
	if status, ok := statuses[store.ClassOf(err)]; ok {
		return status, err
	}
	return 70, err
}

// check has the database examine files, and takes away those that are sound.
func check(paths []string) (int, error) {
	for _, path := range paths {
		if err := examined(path); err != nil {
			return exit(fmt.Errorf("%s: %w", path, err))
		}
		os.Remove(path)
	}
	return 0, nil
}

// steps appends so many events to a piece and prints the number of each once it is
// saved. 0 is without end.
func steps(a []string) (int, error) {
	s := at(a[0])
	id, _ := strconv.ParseUint(a[1], 10, 64)
	count, _ := strconv.Atoi(a[2])
	for i := 0; count == 0 || i < count; i++ {
		var seq uint64
		began := time.Now()
		err := s.Update(ctx, func(tx *store.Tx) error {
			var err error
			seq, err = tx.Append(store.PieceID(id), event(fmt.Sprintf("%s %d", a[3], i)))
			return err
		})
		if err != nil {
			return exit(err)
		}
		fmt.Println(seq, time.Since(began).Microseconds())
	}
	return 0, nil
}

// reads reads everything so many times.
func reads(a []string) (int, error) {
	count, _ := strconv.Atoi(a[1])
	for range count {
		if _, err := contents(at(a[0])); err != nil {
			return exit(err)
		}
	}
	return 0, nil
}

// hold keeps the lock for a time and says when it has it.
func hold(a []string) (int, error) {
	wait, _ := time.ParseDuration(a[1])
	return exit(at(a[0]).Update(ctx, func(*store.Tx) error {
		fmt.Println("held")
		time.Sleep(wait)
		return nil
	}))
}

// importFile imports an export.
func importFile(a []string) (int, error) {
	f, err := os.Open(a[1])
	if err != nil {
		return exit(err)
	}
	defer f.Close()
	_, err = importFrom(ctx, at(a[0]), f, store.ImportOptions{})
	return exit(err)
}

// bare does what any step must: it prints a line and makes two writes in place of 4
// KiB, each followed by a barrier.
func bare(a []string) (int, error) {
	f, err := os.OpenFile(a[0], os.O_RDWR, 0)
	if err != nil {
		return 1, err
	}
	var block [page]byte
	for at := range 2 {
		block[0] = byte(time.Now().UnixNano())
		if _, err := f.WriteAt(block[:], int64(at*page)); err != nil {
			return 1, err
		}
		if err := dataSync(f); err != nil {
			return 1, err
		}
	}
	fmt.Println(time.Now().UnixNano())
	return 0, f.Close()
}

// child prepares this binary as a child.
func child(ctx context.Context, name string, args ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, os.Args[0], args...)
	c.Env = append(os.Environ(), childEnv+"="+name)
	return c
}

// run runs a child to its end.
func run(t testing.TB, name string, args ...string) (status int, stderr string) {
	t.Helper()
	var said strings.Builder
	c := child(ctx, name, args...)
	c.Stderr = &said
	err := c.Run()
	if c.ProcessState == nil {
		require.NoError(t, err)
	}
	require.NotContains(t, said.String(), "goroutine ", "a Go trace")
	return c.ProcessState.ExitCode(), said.String()
}

// killed starts a child and kills it after a random time up to the longest. It
// returns the numbers the child printed as saved.
func killed(t testing.TB, longest time.Duration, name string, args ...string) []uint64 {
	t.Helper()
	return ended(t, os.Kill, longest, name, args...)
}

// ended is killed with another signal.
func ended(t testing.TB, signal os.Signal, longest time.Duration, name string, args ...string) []uint64 {
	t.Helper()
	c := child(ctx, name, args...)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	timer := time.AfterFunc(rand.N(longest), func() { c.Process.Signal(signal) })
	defer timer.Stop()
	numbers := readNumbers(out)
	c.Wait() // its error is the signal
	return numbers
}

// readNumbers reads the first number of every whole line.
func readNumbers(r io.Reader) []uint64 {
	var all []uint64
	in := bufio.NewReader(r)
	for {
		text, err := in.ReadString('\n')
		if err != nil {
			return all
		}
		first, _, _ := strings.Cut(strings.TrimSpace(text), " ")
		if n, err := strconv.ParseUint(first, 10, 64); err == nil {
			all = append(all, n)
		}
	}
}

// requireSound demands that a check finds nothing.
func requireSound(t testing.TB, s *store.Store) store.Report {
	t.Helper()
	report, err := s.Check(ctx)
	require.NoError(t, err)
	require.Empty(t, report.Problems)
	return report
}
