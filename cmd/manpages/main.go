// Manpages writes the manual pages of strandwise, one a command, from the same
// texts as its help. It is a program of its own so that the library that writes
// them stays out of strandwise.
package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra/doc"

	"strandwise/cmd"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "manpages: name the folder for the pages\n  try: go run ./cmd/manpages dist/man")
		os.Exit(2)
	}
	if err := write(os.Args[1]); err != nil {
		fmt.Fprintf(os.Stderr, "manpages: %v\n  try: a folder that can be written\n", err)
		os.Exit(5)
	}
}

// write makes the folder and the pages. Their month is that of SOURCE_DATE_EPOCH
// where it is set, else the present one.
func write(folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	return doc.GenManTree(cmd.Root(), &doc.GenManHeader{
		Section: "1",
		Source:  "Strandwise",
		Manual:  "Strandwise",
	}, folder)
}
