package frame

import (
	"cmp"
	"io"
	"os"
	"strings"
	"time"
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

	// Width gives the columns of the terminal on Out at this moment, 0 when
	// unknown.
	Width func() int

	// Height gives the lines of the terminal on Out at this moment, 0 when unknown.
	Height func() int

	// Interrupt takes over the signals that end the run with status 130 and gives
	// what delivers them.
	Interrupt func() <-chan os.Signal

	// Raw makes the terminal on In hand over single keys and returns what puts
	// it back. It is nil when In is no terminal.
	Raw func() (restore func() error, err error)

	// Watch begins to tell what happens to the terminal, as far as it can be told.
	Watch func() Watch
}

// Watch tells what happens to the terminal a program sits at.
type Watch struct {
	Happens <-chan Happening
	Sleep   func() // suspends the program; it returns when it is continued
	End     func() // ends the watch
}

// Happening is what may happen to the terminal.
type Happening uint8

// The happenings.
const (
	Resized   Happening = iota
	ToSleep             // the program is asked to be suspended
	Continued           // it goes on after it was suspended
)

// filled replaces the fields left zero.
func (e Env) filled() Env {
	e.In = cmp.Or[io.Reader](e.In, strings.NewReader(""))
	e.Out, e.Err = cmp.Or(e.Out, io.Discard), cmp.Or(e.Err, io.Discard)
	if e.Getenv == nil {
		e.Getenv = func(string) string { return "" }
	}
	if e.Now == nil {
		e.Now = time.Now
	}
	if e.Interrupt == nil {
		e.Interrupt = func() <-chan os.Signal { return nil }
	}
	if e.Watch == nil {
		e.Watch = func() Watch { return Watch{Sleep: func() {}, End: func() {}} }
	}
	if e.Height == nil {
		e.Height = func() int { return 0 }
	}
	if e.Width == nil {
		e.Width = func() int { return 0 }
	}
	return e
}
