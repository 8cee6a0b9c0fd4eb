package cmd

import (
	"fmt"
	"io"

	"strandwise/cmd/frame"
)

// acknowledgement is the line the stream of steps prints after each.
const acknowledgement = "done"

// stream takes one step after another in this process until it is killed.
func stream() {
	env := frame.SystemEnv()
	env.Out, env.Err = io.Discard, io.Discard
	for {
		env.Args = []string{"knit", "--quiet"}
		code := Main(env)
		if code == 1 { // all rows are worked
			env.Args = []string{"rip", "50", "--yes"}
			code = Main(env)
		}
		if code == 0 {
			fmt.Println(acknowledgement)
		}
	}
}
