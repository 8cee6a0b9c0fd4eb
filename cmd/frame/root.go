package frame

import (
	"fmt"

	"github.com/spf13/cobra"
)

// newRoot makes the tree of all commands.
func (a *App) newRoot() *cobra.Command {
	root := a.Parent(a.program.Root)
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetHelpCommand(a.newHelp())
	root.SetHelpFunc(a.helpFunc)
	root.SetFlagErrorFunc(a.flagFault)
	root.RunE = a.runRoot
	a.Flags.add(root.PersistentFlags())
	root.Flags().Bool("version", false, "print the version on one line")
	root.SetHelpCommandGroupID(a.program.Shell)
	for _, g := range a.program.Groups {
		if len(g.Commands) > 0 {
			root.AddGroup(&cobra.Group{ID: g.ID, Title: g.Title})
		}
		for _, construct := range g.Commands {
			c := construct(a)
			c.GroupID = g.ID
			Adopt(root, c)
		}
	}
	return root
}

// runRoot tells where the knitter is, or the version when that is asked for, whatever words stand
// beside. Cobra prints versions too, but in our words only by a template, and a program with
// templates keeps every method of every type and starts later.
func (a *App) runRoot(c *cobra.Command, args []string) error {
	if asked, _ := c.Flags().GetBool("version"); asked { // the root has the flag
		fmt.Fprintf(a.Out, "strandwise %s\n", version())
		return nil
	}
	if len(args) > 0 {
		return UnknownCommand(c, args[0])
	}
	a.program.Bare(a)
	return nil
}
