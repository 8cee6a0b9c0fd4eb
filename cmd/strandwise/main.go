// Strandwise leads a hand knitter through stranded colorwork, row by row.
package main

import (
	"os"

	"strandwise/cmd"
	"strandwise/cmd/frame"
)

func main() { os.Exit(cmd.Main(frame.SystemEnv())) }
