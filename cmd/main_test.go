package cmd

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"strandwise/cmd/frame"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"strandwise": func() { os.Exit(Main(frame.SystemEnv())) },
		"probe":      func() { os.Exit(probed(frame.SystemEnv()).Main()) },
		"stream":     stream,
		"seated":     seated,
	})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:   "testdata/script",
		Cmds:  map[string]func(*testscript.TestScript, bool, []string){"status": status},
		Setup: atHome,
	})
}

// atHome gives a script an empty home. The race detector's pause at the end of
// each process would make scripts ten times as slow.
func atHome(e *testscript.Env) error {
	e.Setenv("HOME", filepath.Join(e.WorkDir, "home"))
	e.Setenv("GORACE", "atexit_sleep_ms=0")
	return copyCharts(filepath.Join(e.WorkDir, "examples"))
}

// status runs a command and wants the exit status given first: status 2 COMMAND...
func status(ts *testscript.TestScript, negated bool, args []string) {
	if negated || len(args) < 2 {
		ts.Fatalf("usage: status N COMMAND [ARGUMENT...]")
	}
	err := ts.Exec(args[1], args[2:]...)
	code := 0
	var exited *exec.ExitError
	if errors.As(err, &exited) {
		code = exited.ExitCode()
	} else {
		ts.Check(err)
	}
	if fmt.Sprint(code) != args[0] {
		ts.Fatalf("%v ended with %d, not %s", args[1:], code, args[0])
	}
}

// probed is the program with commands that misbehave in every way the frame is
// there for.
func probed(env frame.Env) *frame.App {
	a := newApp(env)
	for _, p := range []struct {
		name   string
		writes bool
		run    func(ctx context.Context) error
	}{
		{"save", true, func(context.Context) error {
			_ = a.Commit(func() error { return nil })
			a.Say("row 57 is logged", "strandwise show prints row 58")
			return nil
		}},
		{"save-then-fail", true, func(context.Context) error {
			_ = a.Commit(func() error { return nil })
			return frame.Refused("no second row")
		}},
		{"refuse", true, func(context.Context) error {
			fmt.Fprintln(a.Out, "half an answer")
			return a.Commit(func() error { return frame.Refused("row 12 is already recorded").Hint("strandwise knit --row 13") })
		}},
		{"lose-track", true, func(context.Context) error {
			return a.Commit(func() error { return frame.NewFault(frame.ExitUnknown, "the disk did not answer") })
		}},
		{"panic", true, func(context.Context) error { panic("broken invariant: row 0\nsecond line") }},
		{"wait", true, func(ctx context.Context) error {
			fmt.Fprintln(a.Err, "waiting")
			<-ctx.Done()
			return ctx.Err()
		}},
		{"hang", true, func(context.Context) error {
			return a.Commit(func() error { fmt.Fprintln(a.Err, "waiting"); select {} })
		}},
		{"print", false, func(context.Context) error {
			for i := range 300_000 {
				if _, err := fmt.Fprintln(a.Out, "row", i); err != nil {
					return err
				}
			}
			return nil
		}},
	} {
		s := frame.Spec{Use: p.name, Writes: p.writes, JSON: true}
		a.Root.AddCommand(a.Leaf(s, func(a *frame.App, _ []string) error { return p.run(a.Context()) }))
	}
	return a
}

type ran struct {
	code     int
	out, err string
}

func runProbe(t *testing.T, env frame.Env, args ...string) ran {
	t.Helper()
	return runApp(t, env, probed, args...)
}

func runMain(t *testing.T, env frame.Env, args ...string) ran {
	t.Helper()
	return runApp(t, env, newApp, args...)
}

func runApp(t *testing.T, env frame.Env, make func(frame.Env) *frame.App, args ...string) ran {
	t.Helper()
	var out, err bytes.Buffer
	if env.Out == nil {
		env.Out = &out
	}
	if env.Getenv == nil {
		env.Getenv = fromMap(map[string]string{"HOME": t.TempDir()})
	}
	env.Err, env.Args = &err, args
	code := make(env).Main()
	return ran{code, out.String(), err.String()}
}

func fromMap(m map[string]string) func(string) string {
	return func(name string) string { return m[name] }
}

func TestRefusalSaysNothingWasSaved(t *testing.T) {
	got := runProbe(t, frame.Env{}, "refuse")
	assert.Equal(t, ran{1, "", "strandwise: row 12 is already recorded; nothing was saved\n  try: strandwise knit --row 13\n"}, got)
}

func TestUsageOfAWritingCommandSaysNothingWasSaved(t *testing.T) {
	got := runProbe(t, frame.Env{}, "save", "extra")
	assert.Equal(t, 2, got.code)
	assert.Contains(t, got.err, "; nothing was saved\n")
	assert.NotContains(t, runProbe(t, frame.Env{}, "print", "extra").err, "saved")
}

func TestFailureAfterASaveDoesNotClaimNothing(t *testing.T) {
	got := runProbe(t, frame.Env{}, "save-then-fail")
	assert.Equal(t, ran{1, "", "strandwise: no second row\n"}, got)
}

func TestUnknownOutcome(t *testing.T) {
	got := runProbe(t, frame.Env{}, "lose-track")
	assert.Equal(t, 7, got.code)
	assert.Contains(t, got.err, "strandwise resume")
	assert.NotContains(t, got.err, "nothing was saved")
}

func TestErrorInJSON(t *testing.T) {
	got := runProbe(t, frame.Env{}, "refuse", "--json")
	want := `{"schema":1,"error":{"code":"refused","exit":1,"message":"row 12 is already recorded; nothing was saved","hints":["strandwise knit --row 13"]}}` + "\n"
	assert.Equal(t, ran{1, want, ""}, got)
}

func TestQuietDropsBothLines(t *testing.T) {
	assert.Equal(t, "row 57 is logged\nstrandwise show prints row 58\n", runProbe(t, frame.Env{}, "save").out)
	assert.Empty(t, runProbe(t, frame.Env{}, "save", "--quiet").out)
}

func TestPanicBecomesOneLineAndAReport(t *testing.T) {
	home := t.TempDir()
	got := runProbe(t, frame.Env{Getenv: fromMap(map[string]string{"HOME": home})}, "panic")
	assert.Equal(t, 70, got.code)
	assert.Empty(t, got.out)
	assert.Equal(t, 1, strings.Count(got.err, "\n"))
	assert.Contains(t, got.err, "a fault of the program itself; nothing was saved; details are in "+home)
	_, path, _ := strings.Cut(strings.TrimSpace(got.err), "details are in ")
	report, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(report), "main_test.go")
	assert.Contains(t, string(report), "second line")
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm())
}

func TestReportGoesToTheTemporaryFolderWithoutAHome(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	got := runProbe(t, frame.Env{Getenv: fromMap(nil)}, "panic")
	assert.Equal(t, 70, got.code)
	assert.Contains(t, got.err, "details are in "+os.TempDir())
}

func TestInterruptedWithin100Milliseconds(t *testing.T) {
	for _, c := range []struct{ command, says string }{
		{"wait", "strandwise: interrupted; nothing was saved\n"},
		{"hang", "strandwise: interrupted; the change may or may not be saved\n"},
	} {
		t.Run(c.command, func(t *testing.T) {
			interrupt := make(chan os.Signal, 1)
			began, out := make(chan struct{}), &waitFor{text: "waiting", seen: make(chan struct{})}
			var code int
			a := probed(frame.Env{Err: out, Args: []string{c.command}, Interrupt: func() <-chan os.Signal { return interrupt }, Getenv: fromMap(map[string]string{"HOME": t.TempDir()})})
			go func() { code = a.Main(); close(began) }()
			<-out.seen
			start := time.Now()
			interrupt <- os.Interrupt
			<-began
			assert.Less(t, time.Since(start), 100*time.Millisecond)
			assert.Equal(t, 130, code)
			assert.Contains(t, out.String(), c.says)
		})
	}
}

func TestAtEndRunsOnEveryWayOut(t *testing.T) {
	for _, command := range []string{"save", "refuse", "panic"} {
		var order []int
		a := probed(frame.Env{Args: []string{command}, Getenv: fromMap(map[string]string{"HOME": t.TempDir()})})
		a.AtEnd(func() { order = append(order, 1) })
		a.AtEnd(func() { order = append(order, 2) })
		a.AtEnd(func() { order = append(order, 3) })()
		a.Main()
		assert.Equal(t, []int{3, 2, 1}, order, command)
	}
}

// waitFor is a writer that tells when some text has come.
type waitFor struct {
	bytes.Buffer
	text string
	seen chan struct{}
}

func (w *waitFor) Write(p []byte) (int, error) {
	n, err := w.Buffer.Write(p)
	if strings.Contains(string(p), w.text) {
		close(w.seen)
	}
	return n, err
}

// everyCommand walks the tree below the root.
func everyCommand(t *testing.T) []*cobra.Command {
	t.Helper()
	all := frame.WithBelow(Root())
	require.NotEmpty(t, all)
	return all
}

func TestExitTableStandsInHelp(t *testing.T) {
	help, manual := runMain(t, frame.Env{}, "--help").out, Root().Long
	for _, line := range frame.ExitLines() {
		assert.Contains(t, help, "\n  "+line+"\n")
		assert.Contains(t, manual, "\n"+line)
	}
	assert.Contains(t, help, "  4: store busy\n")
}

func TestFailedAnswer(t *testing.T) {
	for _, c := range []struct {
		name, command string
		err           error
		code          int
		says          string
	}{
		{"read, closed pipe", "print", syscall.EPIPE, 0, ""},
		{"read, full disk", "print", syscall.ENOSPC, 5, "strandwise: the answer could not be written: no space left on device\n"},
		{"step, closed pipe", "save", syscall.EPIPE, 8, "strandwise: saved, but the answer could not be printed: broken pipe\n"},
		{"step, full disk", "save", syscall.ENOSPC, 8, "strandwise: saved, but the answer could not be printed: no space left on device\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := runProbe(t, frame.Env{Out: failing{c.err}}, c.command)
			assert.Equal(t, c.code, got.code)
			first, _, _ := strings.Cut(got.err, "  try")
			assert.Equal(t, c.says, first)
		})
	}
}

// failing is a writer that always fails.
type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
