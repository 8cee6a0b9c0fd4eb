package frame

import (
	"bufio"
	"cmp"
	"context"
	"path/filepath"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"github.com/spf13/cobra"

	"strandwise/cmd/paint"
	"strandwise/store"
)

// App is one run of the program, which run functions get.
type App struct {
	Env      Env // without gaps
	ctx      context.Context
	program  *Program
	Out      *Stream        // the answer
	Err      *Stream        // all else
	Root     *cobra.Command // the tree of all commands
	Flags    Flags          // as given, once a run function has started
	Settings *Resolver

	looks func() (out, err paint.Look) // decided once

	Writes     atomic.Bool   // the command is one that may change the store
	Sitting    uint64        // the piece that a sitting goes on with, by its number in the store, whatever its name becomes; 0 is none
	Status     Exit          // the status where the answer itself says, in JSON, all that is wrong
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
	a := &App{Env: env, ctx: context.Background(), program: p, Out: &Stream{to: env.Out, holds: true}, Err: &Stream{to: env.Err}}
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

// StoreWith names the store of this run, to be opened with those options; it touches nothing.
// Whoever opens it first in a run has the stored settings read in passing.
func (a *App) StoreWith(o store.Options) (*store.Store, error) {
	path := a.Settings.Get(StoreKey)
	switch {
	case path.Text == "" && path.Origin != OriginDefault:
		return nil, Usage("%s names no place for the store", path.Origin).Hint("--store PATH, or leave it out")
	case path.Text == "":
		return nil, Unusable("no place for the store: neither HOME nor XDG_DATA_HOME says where").
			Hint("--store PATH, or set STRANDWISE_STORE")
	}
	o.Now, o.Writer, o.Begin = a.Env.Now, version, a.Settings.read
	return store.At(path.Text, o), nil
}

// How long a glance may take: where the store is busy or damaged the command itself will say
// so, and should not have to wait twice.
const (
	glanceWait  = 50 * time.Millisecond
	glanceWatch = 500 * time.Millisecond
)

// Glance reads the store for what a run can do without: not for long, and without a word
// when it cannot be read.
func (a *App) Glance(read func(*store.Tx) error) {
	s, err := a.StoreWith(store.Options{LockWait: glanceWait, Watch: glanceWatch})
	if err == nil {
		_ = s.View(context.WithoutCancel(a.ctx), read)
	}
}

func (a *App) openStore() { a.Glance(func(*store.Tx) error { return nil }) }

// inUserFolder is a file in our folder inside the user's own, by the XDG base directory rules: a
// relative path in the variable is ignored. On Windows it is in the local application data. It is
// "" when the environment names no home.
func inUserFolder(getenv func(string) string, variable, below, file string) string {
	folder, home := getenv(variable), getenv("HOME")
	switch {
	case filepath.IsAbs(folder):
	case runtime.GOOS == "windows":
		folder = getenv("LOCALAPPDATA")
	case home != "":
		folder = filepath.Join(home, filepath.FromSlash(below))
	default:
		return ""
	}
	if folder == "" {
		return ""
	}
	return filepath.Join(folder, "strandwise", file)
}
