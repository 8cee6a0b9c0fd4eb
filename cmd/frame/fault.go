package frame

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
)

// Fault is an error as the knitter sees it. Commands make their own; Describe makes them of others.
type Fault struct {
	Exit  Exit     `json:"exit"`
	What  string   `json:"message"` // happened and where
	Hints []string `json:"hints"`   // what to do
	cause error
}

func (f *Fault) Error() string { return f.What }

func (f *Fault) Unwrap() error { return f.cause }

// Hint adds a line on what to do.
func (f *Fault) Hint(format string, args ...any) *Fault {
	f.Hints = append(f.Hints, fmt.Sprintf(format, args...))
	return f
}

// HintNear adds the choice that word most likely means in form, which has %s for it, else otherwise.
func (f *Fault) HintNear(word string, choices []string, form, otherwise string) *Fault {
	return f.Hint("%s", (&ChoiceError{word, choices}).Hint(form, otherwise))
}

// Because keeps the error behind it for errors.Is and errors.As.
func (f *Fault) Because(cause error) *Fault {
	f.cause = cause
	return f
}

// Refused makes the fault that the state of the piece does not allow the command.
func Refused(format string, args ...any) *Fault { return NewFault(ExitRefused, format, args...) }

// Usage makes the fault of a wrongly given command.
func Usage(format string, args ...any) *Fault { return NewFault(ExitUsage, format, args...) }

// BadInput makes the fault of a file that cannot be read as what it should be.
func BadInput(format string, args ...any) *Fault { return NewFault(ExitInput, format, args...) }

// Unusable makes the fault of a store or an output that cannot be used.
func Unusable(format string, args ...any) *Fault { return NewFault(ExitUnusable, format, args...) }

// NewFault makes the fault of a status of its own.
func NewFault(code Exit, format string, args ...any) *Fault {
	return &Fault{Exit: code, What: fmt.Sprintf(format, args...)}
}

// Reason is the system's word for why a file operation failed, without operation and path.
func Reason(err error) error {
	if path, is := errors.AsType[*fs.PathError](err); is {
		return path.Err
	}
	if link, is := errors.AsType[*os.LinkError](err); is {
		return link.Err
	}
	return err
}

// Exit is the status the process ends with.
type Exit int

// The statuses.
const (
	ExitDone        Exit = 0
	ExitRefused     Exit = 1
	ExitUsage       Exit = 2
	ExitInput       Exit = 3
	ExitBusy        Exit = 4
	ExitUnusable    Exit = 5
	ExitDamaged     Exit = 6
	ExitUnknown     Exit = 7
	ExitUnprinted   Exit = 8
	ExitBug         Exit = 70
	ExitInterrupted Exit = 130
)

// exits is the documented table: the word of each status in JSON, and its meaning.
var exits = map[Exit]struct{ word, meaning string }{
	ExitDone:        {"done", "done, and on disk"},
	ExitRefused:     {"refused", "refused by the state of the piece"},
	ExitUsage:       {"usage", "wrong usage"},
	ExitInput:       {"input", "bad input file"},
	ExitBusy:        {"busy", "store busy"},
	ExitUnusable:    {"unusable", "store or output cannot be used (missing, permission, space)"},
	ExitDamaged:     {"damaged", "store damaged, foreign or newer"},
	ExitUnknown:     {"unknown", "outcome unknown"},
	ExitUnprinted:   {"unprinted", "saved, answer not printed"},
	ExitBug:         {"bug", "a fault of the program itself"},
	ExitInterrupted: {"interrupted", "interrupted"},
}

// ExitLines is the table for help and the manual.
func ExitLines() []string {
	var lines []string
	for _, e := range slices.Sorted(maps.Keys(exits)) {
		lines = append(lines, fmt.Sprintf("%d: %s", e, exits[e].meaning))
	}
	return lines
}

// SavedNothing reports whether a command that ends with e promises that nothing was saved.
func (e Exit) SavedNothing() bool { return e >= ExitRefused && e <= ExitUnusable }
