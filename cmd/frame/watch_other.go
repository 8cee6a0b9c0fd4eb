//go:build !unix

package frame

// watchTerminal tells nothing: such systems send no signals about terminals. A new
// size is seen with the next key.
func watchTerminal() Watch { return standIns.Watch() }
