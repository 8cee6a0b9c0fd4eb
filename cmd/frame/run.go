package frame

import (
	"context"
	"errors"
	"fmt"
	"io"
	"syscall"
	"time"
)

// grace is how long an interrupted command gets to stop by itself. It leaves
// room below the promised 100 ms for printing and leaving.
const grace = 60 * time.Millisecond

// lastWords is how long a command that keeps the knitter's place gets when the
// terminal it sits at is closed: nobody waits there any more.
const lastWords = time.Second

// Main runs the program once and returns the status to exit with. It leaves no temporary
// file and a terminal as it found it. An interrupted command that does not stop in time is
// left behind: its output goes nowhere, and what it has committed stands.
func (a *App) Main() int {
	defer a.cleanUp()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	done := make(chan error, 1)
	interrupt := a.Env.Interrupt()
	go func() { done <- a.run(ctx) }()
	select {
	case err := <-done:
		return int(a.finish(err))
	case <-interrupt:
		cancel()
		return int(a.interrupted(done))
	}
}

// Again runs the program once more, with another environment.
func (a *App) Again(env Env) int { return New(env, a.program).Main() }

func (a *App) finish(err error) Exit {
	if broken := a.Out.Failed(); broken != nil && errors.Is(err, broken) {
		err = nil // the command only passes on what Flush says below
	}
	code := ExitDone
	if told, is := errors.AsType[Answered](err); is {
		err, code = nil, told.Exit
	}
	if err != nil {
		return a.report(err)
	}
	if err := a.Out.Flush(); err != nil {
		return a.unprinted(err)
	}
	return code
}

// Answered is the error of a command whose answer, in JSON, says all that is wrong.
type Answered struct{ Exit Exit }

func (e Answered) Error() string { return "the answer tells what is wrong" }

// unprinted decides what a failed write of the answer means. A reader that went
// away has seen enough, unless it now cannot know that something was saved.
func (a *App) unprinted(err error) Exit {
	if a.outcome() == somethingSaved {
		fmt.Fprintf(a.Err, "strandwise: saved, but the answer could not be printed: %v\n", Reason(err))
		return ExitUnprinted
	}
	if errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) {
		return ExitDone
	}
	return a.report(Unusable("the answer could not be written: %v", Reason(err)).
		Hint("make room, or send the output elsewhere, and run the command again"))
}

func (a *App) interrupted(done <-chan error) Exit {
	wait := grace
	if a.KeepsPlace.Load() {
		wait = lastWords
	}
	select {
	case err := <-done:
		if err == nil {
			_ = a.Out.Flush()
		}
		if _, is := errors.AsType[*crash](err); is {
			return a.report(err)
		}
	case <-time.After(wait):
	}
	a.Out.discard(errAbandoned)
	a.cleanUp() // the terminal first, or what is reported could not be read
	return a.report(ErrInterrupted)
}

// ErrInterrupted is the error of a run that a signal ended.
var ErrInterrupted = errors.New("interrupted")
