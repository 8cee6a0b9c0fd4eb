package frame

import (
	"io"
	"os"
	"reflect"
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

	// Size is that of the terminal on Out in columns and lines now, 0 when unknown.
	Size func() (width, height int)

	// Interrupt takes over the signals that end the run with status 130.
	Interrupt func() <-chan os.Signal

	// Raw makes the terminal on In hand over single keys; nil when In is none.
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
