package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"slices"
	"time"

	"go.etcd.io/bbolt"
)

// checkInChild has bbolt examine the file in a process of its own with a time
// limit: it does that in a goroutine no guard of ours reaches, and a fault there
// ends the process. What is told is in words of ours.
func (s *Store) checkInChild(ctx context.Context, r *Report) {
	if len(s.options.CheckCommand) == 0 {
		r.PageCheck = "not made: no command is set for it"
		return
	}
	ctx, cancel := context.WithTimeout(ctx, s.options.Watch)
	defer cancel()
	child := exec.CommandContext(ctx, s.options.CheckCommand[0], append(slices.Clone(s.options.CheckCommand[1:]), s.path)...)
	child.WaitDelay = time.Second
	out, err := child.Output()
	r.Original = string(out)
	problem := ""
	var exit *exec.ExitError
	switch {
	case err == nil:
		r.PageCheck, r.Original = "sound", ""
	case ctx.Err() != nil:
		r.PageCheck, problem = "not finished within "+s.options.Watch.String(), "the examination of the pages did not end"
	case !errors.As(err, &exit):
		r.PageCheck, r.Original = "not made: the program for it could not be started", err.Error()
	case exit.ExitCode() == childUnable:
		r.PageCheck = "not made: the file could not be opened for it"
	case exit.ExitCode() == childFound:
		r.PageCheck, problem = "made", "the examination of the pages found faults"
	default:
		r.PageCheck, problem = "broken off", "the examination of the pages was broken off by a fault in the file"
	}
	if problem != "" {
		r.note(damaged("%s", problem))
	}
}

// Exit statuses of the child.
const (
	childFound  = 1
	childUnable = 2
	childMost   = 20 // findings told, at most
)

// CheckChild is the whole work of the child process that CheckCommand names: it
// runs bbolt's examination on a file, writes one finding a line, and returns the
// exit status. Nothing but that process should call it.
func CheckChild(path string, w io.Writer) int {
	db, err := bbolt.Open(path, 0, &bbolt.Options{Timeout: time.Second, ReadOnly: true})
	if err != nil {
		fmt.Fprintln(w, err)
		return childUnable
	}
	found := 0
	// The error of View is nil: the function returns none.
	_ = db.View(func(tx *bbolt.Tx) error {
		for problem := range tx.Check() {
			if found++; found <= childMost {
				fmt.Fprintln(w, problem)
			}
		}
		return nil
	})
	if found > 0 {
		return childFound
	}
	return 0
}
