package cmd

import "fmt"

// fault is an error made by a command itself: the status it ends with, what
// happened and where, and what to do.
type fault struct {
	exit  exit
	what  string
	hints []string
	cause error
}

// Error is what happened and where.
func (f *fault) Error() string { return f.what }

// Unwrap is the error behind it, if any.
func (f *fault) Unwrap() error { return f.cause }

// hint adds a line on what to do.
func (f *fault) hint(format string, args ...any) *fault {
	f.hints = append(f.hints, fmt.Sprintf(format, args...))
	return f
}

// because keeps the error behind it for errors.Is and errors.As.
func (f *fault) because(cause error) *fault {
	f.cause = cause
	return f
}

// refused makes the fault that the state of the piece does not allow the command.
func refused(format string, args ...any) *fault { return newFault(exitRefused, format, args) }

// usage makes the fault of a wrongly given command.
func usage(format string, args ...any) *fault { return newFault(exitUsage, format, args) }

// badInput makes the fault of a file that cannot be read as what it should be.
func badInput(format string, args ...any) *fault { return newFault(exitInput, format, args) }

// unusable makes the fault of a store or an output that cannot be used.
func unusable(format string, args ...any) *fault { return newFault(exitUnusable, format, args) }

func newFault(code exit, format string, args []any) *fault {
	return &fault{exit: code, what: fmt.Sprintf(format, args...)}
}
