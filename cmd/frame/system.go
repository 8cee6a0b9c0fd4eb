package frame

import (
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"

	"golang.org/x/term"
)

// SystemEnv is that of the running process. SIGPIPE is ignored from here on: a reader that goes
// away must not kill a command between its commit and its answer.
func SystemEnv() Env {
	signal.Ignore(syscall.SIGPIPE)
	env := Env{
		In:        os.Stdin,
		Out:       os.Stdout,
		Err:       os.Stderr,
		Args:      os.Args[1:],
		Getenv:    os.Getenv,
		Now:       time.Now,
		InTTY:     term.IsTerminal(int(os.Stdin.Fd())),
		OutTTY:    term.IsTerminal(int(os.Stdout.Fd())),
		ErrTTY:    term.IsTerminal(int(os.Stderr.Fd())),
		Size:      stdoutSize,
		Interrupt: interrupts,
	}
	if env.InTTY {
		env.Raw, env.Watch = rawStdin, watchTerminal
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

// stdoutSize asks the terminal; a new one may answer 0 without an error.
func stdoutSize() (width, height int) {
	width, height, err := term.GetSize(int(os.Stdout.Fd()))
	if err != nil {
		return 0, 0
	}
	return width, height
}

func rawStdin() (func() error, error) {
	fd := int(os.Stdin.Fd())
	state, err := term.MakeRaw(fd)
	if err != nil {
		return nil, err
	}
	return func() error { return term.Restore(fd, state) }, nil
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
