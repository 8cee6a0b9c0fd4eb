// Strandwise leads a hand knitter through stranded colorwork, row by row.
package main

import (
	"os"

	"strandwise/cmd"
)

func main() { os.Exit(cmd.Main(cmd.SystemEnv())) }
