package cmd

import (
	"os"
	"strconv"
	"time"

	"strandwise/cmd/frame"
)

// clockVariable names the file that holds how many milliseconds the clock of a
// seated program is ahead.
const clockVariable = "STRANDWISE_TEST_CLOCK"

// seated is the program with a clock that a test sets, so that nobody waits.
func seated() {
	env := frame.SystemEnv()
	env.Now = func() time.Time {
		text, _ := os.ReadFile(os.Getenv(clockVariable))
		ahead, _ := strconv.Atoi(string(text))
		return time.Now().Add(time.Duration(ahead) * time.Millisecond)
	}
	os.Exit(Main(env))
}
