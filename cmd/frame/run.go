package frame

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"
	"time"

	"strandwise/cmd/paint"
	"strandwise/store"
)

// grace is how long an interrupted command gets to stop by itself. It leaves
// room below the promised 100 ms for printing and leaving.
const grace = 60 * time.Millisecond

// lastWords is how long a command that keeps the knitter's place gets when the
// terminal it sits at is closed: nobody waits there any more.
const lastWords = time.Second

// Main runs the program once and returns the status to exit with. It leaves no temporary
// file and a terminal as it found it. An interrupted command that does not stop in time is
// left behind: its output goes nowhere, and what it has committed stands.
func (a *App) Main() int {
	defer a.cleanUp()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	done := make(chan error, 1)
	interrupt := a.Env.Interrupt()
	go func() { done <- a.run(ctx) }()
	select {
	case err := <-done:
		return int(a.finish(err))
	case <-interrupt:
		cancel()
		return int(a.interrupted(done))
	}
}

// Again runs the program once more, with another environment.
func (a *App) Again(env Env) int { return New(env, a.program).Main() }

func (a *App) finish(err error) Exit {
	if broken := a.Out.Failed(); broken != nil && errors.Is(err, broken) {
		err = nil // the command only passes on what Flush says below
	}
	if err != nil {
		return a.report(err)
	}
	if err := a.Out.Flush(); err != nil {
		return a.unprinted(err)
	}
	return a.Status
}

// unprinted decides what a failed write of the answer means. A reader that went
// away has seen enough, unless it now cannot know that something was saved.
func (a *App) unprinted(err error) Exit {
	if a.outcome() == somethingSaved {
		fmt.Fprintf(a.Err, "strandwise: saved, but the answer could not be printed: %v\n", Reason(err))
		return ExitUnprinted
	}
	if errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) {
		return ExitDone
	}
	return a.report(Unusable("the answer could not be written: %v", Reason(err)).
		Hint("make room, or send the output elsewhere, and run the command again"))
}

func (a *App) interrupted(done <-chan error) Exit {
	wait := grace
	if a.KeepsPlace.Load() {
		wait = lastWords
	}
	select {
	case err := <-done:
		if err == nil {
			_ = a.Out.Flush()
		}
		if crashed(err) != nil {
			return a.report(err)
		}
	case <-time.After(wait):
	}
	a.Out.discard(errAbandoned)
	a.cleanUp() // the terminal first, or what is reported could not be read
	return a.report(ErrInterrupted)
}

// ErrInterrupted is the error of a run that a signal ended.
var ErrInterrupted = errors.New("interrupted")

// report prints an error, as text on stderr or as JSON on stdout, in place of the answer.
func (a *App) report(err error) Exit {
	a.Out.discard(nil)
	p := a.complete(Describe(err), err)
	if a.wantsJSON() && a.reportJSON(p) {
		return p.Exit
	}
	fmt.Fprintln(a.Err, a.headline(p.What))
	a.Try(p.Hints...)
	return p.Exit
}

// headline is broken between words on a terminal. A message of several lines holds an excerpt of a
// file and stays, as do the hints below: they hold commands to copy.
func (a *App) headline(what string) string {
	text := "strandwise: " + what
	if !a.Env.ErrTTY || strings.Contains(text, "\n") {
		return text
	}
	width, _ := a.Env.Size()
	return strings.Join(paint.Wrap("", strings.Split(text, " "), cmp.Or(width, defaultWidth)), "\n")
}

// complete adds what is known about the store and, for a fault of our own and where the runtime
// or the database had words of its own, the place of a report with the details.
func (a *App) complete(p *Fault, err error) *Fault {
	outcome := a.outcome()
	mayTell := a.Writes.Load() || outcome != nothingSaved
	switch {
	case p.Exit == ExitUnknown:
		p.Hints = append(slices.Clone(p.Hints), "strandwise resume, which shows what is there")
	case mayTell && (p.Exit == ExitInterrupted || p.Exit == ExitBug || p.Exit.SavedNothing() && outcome == nothingSaved):
		p.What = ended(p.What, outcome.String())
	}
	if p.Exit != ExitBug && original(err) == "" {
		return p
	}
	if path := a.writeBugReport(p, err); path != "" {
		p.What = ended(p.What, "details are in "+path)
	}
	return p
}

// ended puts a last clause to a message: on its own line below a longer one, which
// may end with an excerpt of a file.
func ended(message, clause string) string {
	if strings.Contains(message, "\n") {
		return strings.TrimRight(message, "\n") + "\n" + clause
	}
	return message + "; " + clause
}

// wantsJSON looks at the arguments themselves, since they may be what is wrong.
func (a *App) wantsJSON() bool {
	args := a.Env.Args
	if end := slices.Index(args, "--"); end >= 0 {
		args = args[:end]
	}
	return a.Flags.JSON || slices.Contains(args, "--json")
}

// reportJSON reports whether it could print: after an interruption the output is closed.
func (a *App) reportJSON(p *Fault) bool {
	var answer struct {
		Error struct {
			Code string `json:"code"`
			*Fault
		} `json:"error"`
	}
	answer.Error.Code, answer.Error.Fault = exits[p.Exit].word, p
	return a.AnswerJSON(1, answer) == nil && a.Out.Flush() == nil
}

// caught turns a panic into a fault of our own; deferred, with the error to be returned. What was thrown is
// the runtime's word, and in the report only.
func caught(err *error) {
	if value := recover(); value != nil {
		*err = NewFault(ExitBug, "a fault of the program itself").Because(fmt.Errorf("%v\n\n%s", value, debug.Stack()))
	}
}

// crashed is a panic among the errors, nil where there was none.
func crashed(err error) error {
	if f, is := errors.AsType[*Fault](err); is && f.Exit == ExitBug {
		return f.cause
	}
	return nil
}

// original is what the runtime or the database said of an error, "" when neither did.
func original(err error) string {
	if e, is := errors.AsType[*store.Error](err); is {
		return e.Original
	}
	return ""
}

// writeBugReport returns where the details are, "" when no folder takes them.
func (a *App) writeBugReport(p *Fault, err error) string {
	stack := fmt.Sprintf("%v\n%s\n", err, original(err))
	if crash := crashed(err); crash != nil {
		stack = crash.Error()
	}
	text := fmt.Sprintf("strandwise %s, %s %s/%s\n%s\n\n%s\narguments: %q\n\n%s",
		version(), runtime.Version(), runtime.GOOS, runtime.GOARCH,
		a.Env.Now().Format("2006-01-02T15:04:05Z07:00"), p.What, a.Env.Args, stack)
	for _, folder := range []string{inUserFolder(a.Env.Getenv, "XDG_STATE_HOME", ".local/state", ""), os.TempDir()} {
		if folder == "" || os.MkdirAll(folder, 0o700) != nil {
			continue
		}
		f, err := os.CreateTemp(folder, "report-*.txt")
		if err != nil {
			continue
		}
		if _, err = f.WriteString(text); errors.Join(err, f.Close()) == nil {
			return filepath.Clean(f.Name())
		}
	}
	return ""
}
