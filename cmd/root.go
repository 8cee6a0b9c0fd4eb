package cmd

import (
	"fmt"

	"github.com/spf13/cobra"
)

// newRoot makes the tree of all commands.
func (a *app) newRoot() *cobra.Command {
	root := a.parent(a.program.root)
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetHelpCommand(a.newHelp())
	root.SetHelpFunc(a.helpFunc)
	root.SetFlagErrorFunc(a.flagFault)
	root.RunE = a.runRoot
	a.flags.add(root.PersistentFlags())
	root.Flags().Bool("version", false, "print the version on one line")
	root.SetHelpCommandGroupID(a.program.shell)
	for _, g := range a.program.groups {
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
	a.program.bare(a)
	return nil
}
