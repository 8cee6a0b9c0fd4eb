package frame

import (
	"sync"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/cmd/paint"
)

// unsorted has cobra keep commands in the order they are added in, which is that of help.
var unsorted = sync.OnceFunc(func() { cobra.EnableCommandSorting = false })

func (a *App) newRoot() *cobra.Command {
	unsorted()
	root := a.Parent(a.program.Root)
	root.CompletionOptions.DisableDefaultCmd = true
	help := a.newHelp()
	root.SetHelpCommand(help)
	root.SetHelpFunc(a.helpFunc)
	root.SetFlagErrorFunc(a.flagFault)
	root.Version = version()
	root.SetVersionTemplate("{{.DisplayName}} {{.Version}}\n")
	a.Flags.add(root.PersistentFlags())
	root.Flags().Bool("version", false, "print the version on one line")
	root.SetHelpCommandGroupID(a.program.Shell)
	for _, g := range a.program.Groups {
		root.AddGroup(&cobra.Group{ID: g.ID, Title: g.Title})
		for _, construct := range g.Commands {
			c := construct(a)
			c.GroupID = g.ID
			root.AddCommand(c)
		}
	}
	commands := WithBelow(root)
	a.program.explain(append(commands, help))
	for _, c := range commands {
		a.renamedFlags(c)
	}
	return root
}

// Flags are the flags of every command.
type Flags struct {
	Set   *pflag.FlagSet // to see which were given
	JSON  bool
	Width int
	Yes   bool
}

func (g *Flags) add(set *pflag.FlagSet) {
	g.Set = set
	set.String("store", "", "`PATH` of the store (default: pieces.store in the user's data folder)")
	set.String("piece", "", "`NAME` of the piece (default: the one chosen last, or the only one)")
	color := paint.Auto
	set.Var(OneOf(&color, paint.Auto, paint.Always, paint.Never), "color", "when to use color: `auto|always|never`")
	set.Bool("plain", false, "plain sentences for a screen reader: no boxes, columns, redraw or color")
	set.BoolVar(&g.JSON, "json", false, "answer, and tell errors, as one JSON document")
	set.Bool("quiet", false, "leave out the lines on what changed and what comes next")
	set.IntVar(&g.Width, "width", 0, "fit lines to `N` columns (default: as wide as the terminal, else 80)")
	set.Bool("ascii", false, "use ASCII marks only")
	set.BoolVar(&g.Yes, "yes", false, "answer yes to every question")
	set.BoolP("help", "h", false, "explain the command")
}

func (a *App) flagSetting(name string) (string, bool) {
	f := a.Flags.Set.Lookup(name)
	if f == nil || !f.Changed {
		return "", false
	}
	if name == "ascii" {
		return map[string]string{"true": paint.ASCII, "false": paint.Auto}[f.Value.String()], true
	}
	return f.Value.String(), true
}
