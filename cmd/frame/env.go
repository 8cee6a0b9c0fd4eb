package frame

import (
	"io"
	"os"
	"os/signal"
	"reflect"
	"runtime/debug"
	"strings"
	"syscall"
	"time"

	"golang.org/x/term"
)

// Env is all that a run of the program takes from the world around it. Fields
// left zero get harmless stand-ins, so a test states only what it is about.
type Env struct {
	In       io.Reader
	Out, Err io.Writer
	Args     []string // without the name of the program
	Getenv   func(string) string
	Now      func() time.Time

	InTTY, OutTTY, ErrTTY bool // whether each stream is a terminal

	// Size is that of the terminal on Out in columns and lines now, 0 when unknown.
	Size func() (width, height int)

	// Interrupt takes over the signals that end the run with status 130.
	Interrupt func() <-chan os.Signal

	// Raw makes the terminal on In hand over single keys; nil when In is none.
	Raw func() (restore func() error, err error)

	// Watch begins to tell what happens to the terminal, as far as it can be told.
	Watch func() Watch
}

// Watch tells what happens to the terminal a program sits at: Resized, ToSleep or Continued.
type Watch struct {
	Happens <-chan os.Signal
	Sleep   func() // suspends the program; it returns when it is continued
	End     func() // ends the watch
}

var standIns = Env{
	In: strings.NewReader(""), Out: io.Discard, Err: io.Discard,
	Getenv:    func(string) string { return "" },
	Now:       time.Now,
	Size:      func() (width, height int) { return 0, 0 },
	Interrupt: func() <-chan os.Signal { return nil },
	Watch:     func() Watch { return Watch{Sleep: func() {}, End: func() {}} },
}

func (e Env) filled() Env {
	own, others := reflect.ValueOf(&e).Elem(), reflect.ValueOf(standIns)
	for i := range own.NumField() {
		if own.Field(i).IsZero() {
			own.Field(i).Set(others.Field(i))
		}
	}
	return e
}

// SystemEnv is that of the running process. SIGPIPE is ignored from here on: a reader that goes
// away must not kill a command between its commit and its answer.
func SystemEnv() Env {
	signal.Ignore(syscall.SIGPIPE)
	env := Env{
		In:     os.Stdin,
		Out:    os.Stdout,
		Err:    os.Stderr,
		Args:   os.Args[1:],
		Getenv: os.Getenv,
		Now:    time.Now,
		InTTY:  term.IsTerminal(int(os.Stdin.Fd())),
		OutTTY: term.IsTerminal(int(os.Stdout.Fd())),
		ErrTTY: term.IsTerminal(int(os.Stderr.Fd())),
		Size: func() (width, height int) {
			width, height, _ = term.GetSize(int(os.Stdout.Fd()))
			return max(0, width), max(0, height) // it tells -1 where there is no terminal
		},
		Interrupt: interrupts,
	}
	if env.InTTY {
		env.Watch = watchTerminal
		env.Raw = func() (func() error, error) {
			state, err := term.MakeRaw(int(os.Stdin.Fd()))
			return func() error { return term.Restore(int(os.Stdin.Fd()), state) }, err
		}
	}
	return env
}

// interrupts leaves alone what the parent process had ignored (nohup, a background job).
func interrupts() <-chan os.Signal {
	c := make(chan os.Signal, 1)
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT} {
		if !signal.Ignored(s) {
			signal.Notify(c, s)
		}
	}
	return c
}

// release is the released version, set when a release is built.
var release string

// version is the released version, else what the build tells of its source.
func version() string {
	if release != "" {
		return release
	}
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		return info.Main.Version
	}
	return "development"
}
