// Strandwise leads a hand knitter through stranded colourwork, row by row.
package main

import (
	"os"

	"strandwise/cmd"
)

func main() { os.Exit(cmd.Main(cmd.SystemEnv())) }
