package cmd

import (
	"github.com/spf13/pflag"

	"strandwise/cmd/frame"
	"strandwise/cmd/render"
)

// addPaper adds the flag of what paper a document is for.
func addPaper(set *pflag.FlagSet, to *string) {
	set.Var(frame.OneOf(to, render.A4.Name, render.Letter.Name), "paper", "paper of a PDF: `a4|letter` (default: letter where lengths are in inches, else a4)")
}

// paperNamed is the paper of that name; without one that of the units.
func paperNamed(name string, inches bool) render.Paper {
	if name == render.Letter.Name || name == "" && inches {
		return render.Letter
	}
	return render.A4
}
