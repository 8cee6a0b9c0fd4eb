package cmd

import (
	"context"
	"io"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/spf13/cobra"

	"strandwise/cmd/paint"
)

// app is one run of the program: the environment, the outputs, and what the
// flags, the environment and the stored settings amount to. Run functions get it
// as their receiver.
type app struct {
	env      Env
	program  *program
	out      *output  // the answer
	err      *notices // all else
	root     *cobra.Command
	flags    globalFlags
	settings *resolver
	display  display // valid once a run function has started

	writes     atomic.Bool // the command is one that may change the store
	keepsPlace atomic.Bool // it keeps the knitter's place when it is ended
	saveState  saveState
	warned     []string // the store's warnings shown so far
	helpErr    error    // what was wrong with a request for help

	mu       sync.Mutex
	cleanups []func()
}

// display is how answers are to look.
type display struct {
	paint    *paint.Painter // for stdout
	paintErr *paint.Painter // for stderr
	marks    paint.Marks
	width    int // columns, at least 1
	plain    bool
	quiet    bool
}

// newRun makes a run of a program.
func newRun(env Env, p *program) *app {
	env = env.filled()
	a := &app{env: env, program: p, out: &output{to: env.Out}, err: &notices{to: env.Err}}
	a.root = a.newRoot()
	a.settings = &resolver{flag: a.flagSetting, getenv: env.Getenv, stored: a.storedSettings}
	return a
}

// run parses the arguments and runs the command they name.
func (a *app) run(ctx context.Context) (err error) {
	defer caught(&err)
	if asksCompletion(a.env.Args) {
		a.completeFlags()
	}
	args := slices.Clone(a.env.Args)
	if a.program.before != nil {
		args = a.program.before(args)
	}
	a.root.SetArgs(args)
	a.root.SetIn(a.env.In)
	a.root.SetOut(a.out)
	a.root.SetErr(a.err)
	ran, err := a.root.ExecuteContextC(ctx)
	a.writes.Store(ran != nil && ran.Annotations[writesNote] != "")
	if err == nil {
		err = a.helpErr
	}
	return err
}

// prepare settles how answers look; it comes before every run function.
func (a *app) prepare() error {
	d := display{}
	var err error
	if d.plain, err = a.settings.yes("plain"); err != nil {
		return err
	}
	if d.quiet, err = a.settings.yes("quiet"); err != nil {
		return err
	}
	if d.width, err = a.width(); err != nil {
		return err
	}
	marks, err := a.settings.get("marks")
	if err != nil {
		return err
	}
	d.marks = paint.ChooseMarks(marks.text, a.env.Getenv)
	color, err := a.settings.get("color")
	if err != nil {
		return err
	}
	when := color.text
	if d.plain {
		when = paint.Never
	}
	out, notices := paint.Decide(when, a.env.OutTTY, a.env.Getenv), paint.Decide(when, a.env.ErrTTY, a.env.Getenv)
	d.paint, d.paintErr = paint.New(out), paint.New(notices)
	a.out.colors, a.err.colors = out != paint.None, notices != paint.None
	a.display = d
	return nil
}

// defaultWidth is the columns assumed where nothing tells the width.
const defaultWidth = 80

func (a *app) width() (int, error) {
	width, err := a.settings.number("width")
	if err != nil || width > 0 {
		return width, err
	}
	if width = a.env.Width(); width > 0 {
		return width, nil
	}
	return defaultWidth, nil
}

// commit runs a change of the store; see saveState.commit.
func (a *app) commit(change func() error) error { return a.saveState.commit(change) }

// atEnd has f run on every way out of the program, a panic and an interruption
// included, the latest first. The returned function runs f now instead.
func (a *app) atEnd(f func()) (now func()) {
	once := sync.OnceFunc(f)
	a.mu.Lock()
	defer a.mu.Unlock()
	a.cleanups = append(a.cleanups, once)
	return once
}

func (a *app) cleanUp() {
	a.mu.Lock()
	cleanups := slices.Clone(a.cleanups)
	a.mu.Unlock()
	for _, f := range slices.Backward(cleanups) {
		f()
	}
}

// say prints what a change did and the likely next command, unless the knitter
// asked for quiet or for JSON. Either may be empty.
func (a *app) say(changed, next string) {
	if a.display.quiet || a.flags.json {
		return
	}
	if changed != "" {
		a.tell("%s", changed)
	}
	if next != "" {
		_, _ = io.WriteString(a.out, next+"\n") // whole, since it holds a command to copy
	}
}
