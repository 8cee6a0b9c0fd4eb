package cmd

import (
	"fmt"
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

func (a *app) newRoot() *cobra.Command {
	root := a.parent(spec{
		use:   "strandwise",
		short: "a row-by-row companion for stranded colorwork",
		long:  rootLong,
		examples: []string{
			"strandwise --version",
			"strandwise help completion",
		},
	})
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetHelpCommand(a.newHelp())
	root.SetHelpFunc(a.helpFunc)
	root.SetFlagErrorFunc(flagFault)
	root.RunE = a.runRoot
	a.flags.add(root.PersistentFlags())
	root.Flags().Bool("version", false, "print the version on one line")
	root.SetHelpCommandGroupID(shellGroup)
	for _, g := range groups {
		if len(g.commands) > 0 {
			root.AddGroup(&cobra.Group{ID: g.id, Title: g.title})
		}
		for _, construct := range g.commands {
			c := construct(a)
			c.GroupID = g.id
			adopt(root, c)
		}
	}
	return root
}

// runRoot tells where the knitter is, or the version when that is asked for, whatever words stand
// beside. Cobra prints versions too, but in our words only by a template, and a program with
// templates keeps every method of every type and starts later.
func (a *app) runRoot(c *cobra.Command, args []string) error {
	if asked, _ := c.Flags().GetBool("version"); asked { // the root has the flag
		fmt.Fprintf(a.out, "strandwise %s\n", version())
		return nil
	}
	if len(args) > 0 {
		return unknownCommand(c, args[0])
	}
	a.summary()
	return nil
}
