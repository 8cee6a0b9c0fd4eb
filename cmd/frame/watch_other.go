//go:build !unix

package frame

import "syscall"

// What may happen to the terminal elsewhere; such systems send no signals about it, and a new size
// is seen with the next key.
const (
	Resized = syscall.Signal(1000 + iota)
	ToSleep
	Continued
)

func watchTerminal() Watch { return standIns.Watch() }
