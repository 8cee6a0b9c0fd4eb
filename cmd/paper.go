package cmd

import (
	"github.com/spf13/pflag"

	"strandwise/cmd/draw"
	"strandwise/cmd/frame"
)

// addPaper adds the flag of what paper a document is for.
func addPaper(set *pflag.FlagSet, to *string) {
	set.Var(frame.OneOf(to, draw.A4.Name, draw.Letter.Name), "paper", "paper of a PDF: `a4|letter` (default: letter where lengths are in inches, else a4)")
}

// paperNamed is the paper of that name; without one that of the units.
func paperNamed(name string, inches bool) draw.Paper {
	if name == draw.Letter.Name || name == "" && inches {
		return draw.Letter
	}
	return draw.A4
}
