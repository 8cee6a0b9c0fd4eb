package cmd

import (
	"context"
	"errors"
	"fmt"
	"io"
	"syscall"
	"time"

	"strandwise/store"
)

// grace is how long an interrupted command gets to stop by itself. It leaves
// room below the promised 100 ms for printing and leaving.
const grace = 60 * time.Millisecond

// lastWords is how long a command that keeps the knitter's place gets when the
// terminal it sits at is closed: nobody waits there any more.
const lastWords = time.Second

func (a *app) grace() time.Duration {
	if a.keepsPlace.Load() {
		return lastWords
	}
	return grace
}

// main runs the program once and returns the status to exit with. It leaves no temporary
// file and a terminal as it found it. An interrupted command that does not stop in time is
// left behind: its output goes nowhere, and what it has committed stands.
func (a *app) main() int {
	if args := a.env.Args; len(args) == 2 && args[0] == examineWord {
		return store.CheckChild(args[1], a.env.Out)
	}
	defer a.cleanUp()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	done := make(chan error, 1)
	interrupt := a.env.Interrupt()
	go func() { done <- a.run(ctx) }()
	select {
	case err := <-done:
		return int(a.finish(err))
	case <-interrupt:
		cancel()
		return int(a.interrupted(done))
	}
}

// again runs the program once more, with another environment.
func (a *app) again(env Env) int { return newRun(env, a.program).main() }

// finish prints the answer or the error of a command that has ended.
func (a *app) finish(err error) exit {
	if broken := a.out.failed(); broken != nil && errors.Is(err, broken) {
		err = nil // the command only passes on what Flush says below
	}
	code := exitDone
	var told answered
	if errors.As(err, &told) {
		err, code = nil, told.exit
	}
	if err != nil {
		return a.report(err)
	}
	if err := a.out.Flush(); err != nil {
		return a.unprinted(err)
	}
	return code
}

// answered is the error of a command whose answer, in JSON, says all that is wrong:
// the run ends with the status and nothing more is told.
type answered struct{ exit exit }

func (e answered) Error() string { return "the answer tells what is wrong" }

// unprinted decides what a failed write of the answer means. A reader that went
// away has seen enough, unless it now cannot know that something was saved.
func (a *app) unprinted(err error) exit {
	if a.saveState.outcome() == somethingSaved {
		fmt.Fprintf(a.err, "strandwise: saved, but the answer could not be printed: %v\n", reason(err))
		return exitUnprinted
	}
	if errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) {
		return exitDone
	}
	return a.report(unusable("the answer could not be written: %v", reason(err)).
		hint("make room, or send the output elsewhere, and run the command again"))
}

// interrupted waits a moment for the command to stop and says what is saved.
func (a *app) interrupted(done <-chan error) exit {
	select {
	case err := <-done:
		if err == nil {
			_ = a.out.Flush()
		}
		var c *crash
		if errors.As(err, &c) {
			return a.report(err)
		}
	case <-time.After(a.grace()):
	}
	a.out.abandon()
	a.cleanUp() // the terminal first, or what is reported could not be read
	return a.report(errInterrupted)
}
