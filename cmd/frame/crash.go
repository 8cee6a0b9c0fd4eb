package frame

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"

	"strandwise/store"
)

// crash is a panic on its way to the knitter: always a fault of our own.
type crash struct {
	value any
	stack []byte
}

// Error says no more than that: what was thrown is the runtime's word, and in the report.
func (c *crash) Error() string { return "a fault of the program itself" }

// caught turns a panic into an error; deferred, with the error to be returned.
func caught(err *error) {
	if value := recover(); value != nil {
		*err = &crash{value, debug.Stack()}
	}
}

// original is what the runtime or the database said of an error, "" when neither did.
func original(err error) string {
	var e *store.Error
	if errors.As(err, &e) {
		return e.Original
	}
	return ""
}

// writeBugReport writes the details to the state folder or else to the folder for
// temporary files, and returns where, or "" when neither takes them.
func (a *App) writeBugReport(p *Fault, err error) string {
	stack := fmt.Sprintf("%v\n", err)
	if said := original(err); said != "" {
		stack += said + "\n"
	}
	var c *crash
	if errors.As(err, &c) {
		stack = fmt.Sprintf("%v\n\n%s", c.value, c.stack)
	}
	text := fmt.Sprintf("strandwise %s, %s %s/%s\n%s\n\n%s\narguments: %q\n\n%s",
		version(), runtime.Version(), runtime.GOOS, runtime.GOARCH,
		a.Env.Now().Format("2006-01-02T15:04:05Z07:00"), p.What, a.Env.Args, stack)
	for _, folder := range []string{stateFolder(a.Env.Getenv), os.TempDir()} {
		if folder == "" || os.MkdirAll(folder, 0o700) != nil {
			continue
		}
		f, err := os.CreateTemp(folder, "report-*.txt")
		if err != nil {
			continue
		}
		if _, err = f.WriteString(text); errors.Join(err, f.Close()) == nil {
			return filepath.Clean(f.Name())
		}
	}
	return ""
}
