package frame

import (
	"sync/atomic"
)

// outcome is what is known about the store at this moment of the run.
type outcome int32

const (
	nothingSaved   outcome = iota // no change has been tried, or all tries failed cleanly
	perhapsSaved                  // a change is under way, or ended without an answer
	somethingSaved                // a change is on disk
)

// outcomes are the words for each outcome at the end of a message.
var outcomes = [...]string{"nothing was saved", "the change may or may not be saved", "saved"}

// String is the outcome at the end of a message.
func (o outcome) String() string { return outcomes[o] }

// saveState keeps the outcome; the run and whoever interrupts it both read it.
type saveState struct{ state atomic.Int32 }

func (l *saveState) outcome() outcome { return outcome(l.state.Load()) }

// commit is App.Commit.
func (l *saveState) commit(change func() error) error {
	before := l.outcome()
	l.state.Store(int32(perhapsSaved))
	err := change()
	switch {
	case err == nil:
		l.state.Store(int32(somethingSaved))
	case Describe(err).Exit != ExitUnknown:
		l.state.Store(int32(before))
	}
	return err
}
