package cmd

import (
	"strings"

	"strandwise/cmd/frame"

	"github.com/spf13/cobra"
)

const rootLong = `Strandwise leads a hand knitter through stranded colorwork, row by row. It prints the next row as runs of color, the stitches on which to catch a long float and the motion that makes the catch for the way the yarns are held, and it logs what was really done.`

// Root is the whole tree of commands, for the tool that writes the manual pages.
// Its commands act on an empty environment. The text of the root ends with the exit
// statuses, for which the pages have no other place.
func Root() *cobra.Command {
	root := newApp(frame.Env{}).Root
	root.Long += "\n\n# EXIT STATUS\n\n" + strings.Join(frame.ExitLines(), "\n\n")
	return root
}

// Main runs the program once and returns its exit status; it never exits itself.
func Main(env frame.Env) int { return newApp(env).Main() }

func newApp(env frame.Env) *frame.App { return frame.New(env, strandwise) }

// strandwise is the program: its commands, and what is known of how they are mistaken.
var strandwise = &frame.Program{
	Root: frame.Spec{
		Use:   "strandwise",
		Short: "a row-by-row companion for stranded colorwork",
		Long:  rootLong,
		Examples: []string{
			"strandwise --version",
			"strandwise help completion",
		},
	},
	Groups: groups, Shell: shellGroup, Bare: summary,
	Values: completers, Before: belowZero,
	TooFew: missingHints, NoFlag: misplacedFlags, TooMany: slipHints,
}
