package frame

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"

	"strandwise/cmd/paint"
	"strandwise/store"
)

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

// crash is a panic on its way to the knitter: always a fault of our own.
type crash struct {
	value any
	stack []byte
}

// Error says no more than that: what was thrown is the runtime's word, and in the report.
func (c *crash) Error() string { return "a fault of the program itself" }

// caught turns a panic into an error; deferred, with the error to be returned.
func caught(err *error) {
	if value := recover(); value != nil {
		*err = &crash{value, debug.Stack()}
	}
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
	if c, is := errors.AsType[*crash](err); is {
		stack = fmt.Sprintf("%v\n\n%s", c.value, c.stack)
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
