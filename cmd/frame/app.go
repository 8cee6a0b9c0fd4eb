package frame

import (
	"context"
	"io"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/spf13/cobra"

	"strandwise/cmd/paint"
)

// App is one run of the program: the environment, the outputs, and what the
// flags, the environment and the stored settings amount to. Run functions get it
// as their receiver.
type App struct {
	Env      Env
	program  *Program
	Out      *Output  // the answer
	Err      *Notices // all else
	Root     *cobra.Command
	Flags    Flags
	Settings *Resolver
	Display  Display // valid once a run function has started

	Writes     atomic.Bool // the command is one that may change the store
	KeepsPlace atomic.Bool // it keeps the knitter's place when it is ended
	saveState  saveState
	warned     []string // the store's warnings shown so far
	helpErr    error    // what was wrong with a request for help

	mu       sync.Mutex
	cleanups []func()
}

// Display is how answers are to look.
type Display struct {
	Paint    *paint.Painter // for stdout
	PaintErr *paint.Painter // for stderr
	Marks    paint.Marks
	Width    int // columns, at least 1
	Plain    bool
	Quiet    bool
}

// New makes a run of a program.
func New(env Env, p *Program) *App {
	env = env.filled()
	a := &App{Env: env, program: p, Out: &Output{to: env.Out}, Err: &Notices{to: env.Err}}
	a.Root = a.newRoot()
	a.Settings = &Resolver{flag: a.flagSetting, getenv: env.Getenv, stored: a.storedSettings}
	return a
}

// run parses the arguments and runs the command they name.
func (a *App) run(ctx context.Context) (err error) {
	defer caught(&err)
	if AsksCompletion(a.Env.Args) {
		a.completeFlags()
	}
	args := slices.Clone(a.Env.Args)
	if a.program.Before != nil {
		args = a.program.Before(args)
	}
	a.Root.SetArgs(args)
	a.Root.SetIn(a.Env.In)
	a.Root.SetOut(a.Out)
	a.Root.SetErr(a.Err)
	ran, err := a.Root.ExecuteContextC(ctx)
	a.Writes.Store(ran != nil && ran.Annotations[writesNote] != "")
	if err == nil {
		err = a.helpErr
	}
	return err
}

// prepare settles how answers look; it comes before every run function.
func (a *App) prepare() error {
	d := Display{}
	var err error
	if d.Plain, err = a.Settings.Yes("plain"); err != nil {
		return err
	}
	if d.Quiet, err = a.Settings.Yes("quiet"); err != nil {
		return err
	}
	if d.Width, err = a.width(); err != nil {
		return err
	}
	marks, err := a.Settings.Get("marks")
	if err != nil {
		return err
	}
	d.Marks = paint.ChooseMarks(marks.Text, a.Env.Getenv)
	color, err := a.Settings.Get("color")
	if err != nil {
		return err
	}
	when := color.Text
	if d.Plain {
		when = paint.Never
	}
	out, notices := paint.Decide(when, a.Env.OutTTY, a.Env.Getenv), paint.Decide(when, a.Env.ErrTTY, a.Env.Getenv)
	d.Paint, d.PaintErr = paint.New(out), paint.New(notices)
	a.Out.colors, a.Err.colors = out != paint.None, notices != paint.None
	a.Display = d
	return nil
}

// defaultWidth is the columns assumed where nothing tells the width.
const defaultWidth = 80

func (a *App) width() (int, error) {
	width, err := a.Settings.Number("width")
	if err != nil || width > 0 {
		return width, err
	}
	if width = a.Env.Width(); width > 0 {
		return width, nil
	}
	return defaultWidth, nil
}

// Commit runs a change of the store; see saveState.commit.
func (a *App) Commit(change func() error) error { return a.saveState.commit(change) }

// AtEnd has f run on every way out of the program, a panic and an interruption
// included, the latest first. The returned function runs f now instead.
func (a *App) AtEnd(f func()) (now func()) {
	once := sync.OnceFunc(f)
	a.mu.Lock()
	defer a.mu.Unlock()
	a.cleanups = append(a.cleanups, once)
	return once
}

func (a *App) cleanUp() {
	a.mu.Lock()
	cleanups := slices.Clone(a.cleanups)
	a.mu.Unlock()
	for _, f := range slices.Backward(cleanups) {
		f()
	}
}

// Say prints what a change did and the likely next command, unless the knitter
// asked for quiet or for JSON. Either may be empty.
func (a *App) Say(changed, next string) {
	if a.Display.Quiet || a.Flags.JSON {
		return
	}
	if changed != "" {
		a.Tell("%s", changed)
	}
	if next != "" {
		_, _ = io.WriteString(a.Out, next+"\n") // whole, since it holds a command to copy
	}
}
