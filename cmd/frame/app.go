package frame

import (
	"bufio"
	"cmp"
	"context"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/spf13/cobra"

	"strandwise/cmd/paint"
)

// App is one run of the program, which run functions get.
type App struct {
	Env      Env // without gaps
	ctx      context.Context
	program  *Program
	Out      *Output        // the answer
	Err      *Notices       // all else
	Root     *cobra.Command // the tree of all commands
	Flags    Flags          // as given, once a run function has started
	Settings *Resolver

	looks func() (out, err paint.Look) // decided once

	Writes     atomic.Bool   // the command is one that may change the store
	Sitting    uint64        // the piece that a sitting goes on with, by its number in the store, whatever its name becomes; 0 is none
	KeepsPlace atomic.Bool   // it keeps the knitter's place when it is ended
	saved      atomic.Int32  // an outcome; the run and whoever interrupts it both read it
	warned     []string      // the store's warnings shown so far
	helpErr    error         // what was wrong with a request for help
	answers    *bufio.Reader // of questions; nil before the first
	about      string        // the piece to name before what was changed; "" where it goes without saying

	mu       sync.Mutex
	cleanups []func()
}

// New makes a run of a program.
func New(env Env, p *Program) *App {
	env = env.filled()
	a := &App{Env: env, ctx: context.Background(), program: p, Out: &Output{to: env.Out}, Err: &Notices{to: env.Err}}
	a.Root = a.newRoot()
	a.looks = sync.OnceValues(a.decideLooks)
	a.Settings = &Resolver{flag: a.flagSetting, getenv: env.Getenv, open: a.openStore}
	return a
}

func (a *App) run(ctx context.Context) (err error) {
	defer caught(&err)
	if AsksCompletion(a.Env.Args) {
		a.completeFlags()
	}
	a.Root.SetArgs(a.program.Before(a.renamedCommand(slices.Clone(a.Env.Args))))
	a.Root.SetIn(a.Env.In)
	a.Root.SetOut(a.Out)
	a.Root.SetErr(a.Err)
	a.ctx = ctx
	ran, err := a.Root.ExecuteContextC(ctx)
	a.Writes.Store(ran != nil && ran.Annotations[writesNote] == yes)
	if err == nil {
		err = a.helpErr
	}
	return err
}

// Context ends when the run is interrupted.
func (a *App) Context() context.Context { return a.ctx }

// Uninterrupted does work that is to be finished though the run is interrupted meanwhile.
func (a *App) Uninterrupted(work func() error) error {
	was := a.ctx
	defer func() { a.ctx = was }()
	a.ctx = context.WithoutCancel(was)
	return work()
}

// Display is how answers are to look; it holds for the whole run. At first need the stored
// settings are read, in the state of the store that the command has read already, if any.
func (a *App) Display() paint.Look {
	look, _ := a.looks()
	return look
}

func (a *App) decideLooks() (out, err paint.Look) {
	s := a.Settings
	out = paint.Look{Plain: s.Yes("plain"), Quiet: s.Yes("quiet"), Width: a.width()}
	out.Marks = paint.ChooseMarks(s.Get("marks").Text, a.Env.Getenv)
	when := s.Get("color").Text
	if out.Plain {
		when = paint.Never
	}
	err = out
	err.Quiet = false
	out.Paint = paint.New(paint.Decide(when, a.Env.OutTTY, a.Env.Getenv))
	err.Paint = paint.New(paint.Decide(when, a.Env.ErrTTY, a.Env.Getenv))
	a.Out.colors, a.Err.colors = out.Paint.Colors(), err.Paint.Colors()
	return out, err
}

const defaultWidth = 80

func (a *App) width() int {
	width, _ := a.Env.Size()
	return cmp.Or(a.Settings.Number("width"), width, defaultWidth)
}

// outcome is what is known about the store at this moment of the run.
type outcome int32

const (
	nothingSaved   outcome = iota // no change has been tried, or all tries failed cleanly
	perhapsSaved                  // a change is under way, or ended without an answer
	somethingSaved                // a change is on disk
)

func (o outcome) String() string {
	return [...]string{"nothing was saved", "the change may or may not be saved", "saved"}[o]
}

func (a *App) outcome() outcome { return outcome(a.saved.Load()) }

// Commit runs a change of the store, which must return nil only after the change is on disk,
// and keeps account of what is saved. Every change of the store goes through it.
func (a *App) Commit(change func() error) error {
	before := a.saved.Swap(int32(perhapsSaved))
	err := change()
	switch {
	case err == nil:
		a.saved.Store(int32(somethingSaved))
	case Describe(err).Exit != ExitUnknown:
		a.saved.Store(before)
	}
	return err
}

// AtEnd has f run on every way out of the program, a panic and an interruption included, the
// latest first; now runs it instead.
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

// SayOf has the next Say name a piece, since the store holds others too.
func (a *App) SayOf(piece string) { a.about = piece }
