package cmd

import (
	"strings"

	"github.com/spf13/cobra"
)

const rootLong = `Strandwise leads a hand knitter through stranded colorwork, row by row. It prints the next row as runs of color, the stitches on which to catch a long float and the motion that makes the catch for the way the yarns are held, and it logs what was really done.`

// Root is the whole tree of commands, for the tool that writes the manual pages.
// Its commands act on an empty environment. The text of the root ends with the exit
// statuses, for which the pages have no other place.
func Root() *cobra.Command {
	root := newApp(Env{}).root
	root.Long += "\n\n# EXIT STATUS\n\n" + strings.Join(exitLines(), "\n\n")
	return root
}

// Main runs the program once and returns its exit status; it never exits itself.
func Main(env Env) int { return newApp(env).main() }

func newApp(env Env) *app { return newRun(env, strandwise) }

// strandwise is the program: its commands, and what is known of how they are mistaken.
var strandwise = &program{
	root: spec{
		use:   "strandwise",
		short: "a row-by-row companion for stranded colorwork",
		long:  rootLong,
		examples: []string{
			"strandwise --version",
			"strandwise help completion",
		},
	},
	groups: groups, shell: shellGroup, bare: summary,
	values: completers, before: belowZero,
	tooFew: missingHints, noFlag: misplacedFlags, tooMany: slipHints,
}
