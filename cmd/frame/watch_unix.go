//go:build unix

package frame

import (
	"os"
	"os/signal"
	"syscall"
	"time"
)

// What may happen to the terminal.
const (
	Resized   = syscall.SIGWINCH
	ToSleep   = syscall.SIGTSTP // the program is asked to be suspended
	Continued = syscall.SIGCONT // it goes on after it was suspended
)

// watchTerminal takes over the signals of the terminal until the watch ends.
func watchTerminal() Watch {
	happens := make(chan os.Signal, 8)
	signal.Notify(happens, Resized, ToSleep, Continued)
	return Watch{Happens: happens, Sleep: sleep, End: func() { signal.Stop(happens) }}
}

// orphaned is how long to wait for the suspension itself. A program that no shell
// could continue is not suspended at all.
const orphaned = 300 * time.Millisecond

// sleep stops the whole job, as the terminal would have, and returns when it goes
// on. A Go program that has once asked for SIGTSTP can no longer be stopped by it, so
// the job is stopped by SIGTTOU, which the system treats alike. A signal stops the
// process some time after it was sent, so only the signal to go on tells that it was.
func sleep() {
	goesOn := make(chan os.Signal, 1)
	signal.Notify(goesOn, syscall.SIGCONT)
	defer signal.Stop(goesOn)
	if syscall.Kill(0, syscall.SIGTTOU) != nil {
		return
	}
	select {
	case <-goesOn:
	case <-time.After(orphaned):
	}
}
