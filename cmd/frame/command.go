package frame

import (
	"fmt"
	"io/fs"
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/cmd/document"
	"strandwise/cmd/paint"
)

// The annotations, yes or no, of commands that may change the store, and of those that have an answer in JSON.
const (
	writesNote = "writes"
	jsonNote   = "json"
)

// AnswersJSON reports whether a command has an answer in JSON.
func AnswersJSON(c *cobra.Command) bool { return c.Annotations[jsonNote] == yes }

// Spec is what a command is, apart from its texts, its flags and what it does.
type Spec struct {
	Use     string   // the line of usage without the program, which tells the arguments: "rename [NAME] NEW"
	Aliases []string // other names
	More    string   // paragraphs behind those of Program.Texts

	Writes bool // may change the store: its errors say that nothing was saved
	JSON   bool // has an answer in JSON

	Complete Completer // may look into the store and must not complain; nil leaves files to the shell
}

// Leaf makes a command that does something, without flags. The answer of run goes to a.Out.
func (a *App) Leaf(s Spec, run func(a *App, args []string) error) *cobra.Command {
	c := a.bare(s)
	c.Args = func(c *cobra.Command, args []string) error { return s.checkArgs(a.program, c, args) }
	c.RunE = func(c *cobra.Command, args []string) error {
		if a.Flags.JSON && !s.JSON {
			return Usage("%s has no answer in JSON", c.CommandPath()).Hint("leave --json out")
		}
		if a.Flags.Set.Changed(PieceKey) && !a.aboutPiece(c) {
			return Usage("%s takes no --piece: it is not about one piece", c.CommandPath()).Hint("leave --piece out")
		}
		a.Writes.Store(s.Writes)
		if err := a.Settings.Check(); err != nil {
			return err
		}
		return run(a, args)
	}
	c.ValidArgsFunction = a.completing(s.Complete)
	return c
}

func (a *App) aboutPiece(c *cobra.Command) bool {
	return slices.Contains(a.program.AboutPiece, UnderRoot(c))
}

// Parent makes a command that only holds others. Alone it prints its help, or what the program is.
func (a *App) Parent(s Spec, children ...*cobra.Command) *cobra.Command {
	c := a.bare(s)
	c.Args = cobra.ArbitraryArgs
	c.RunE = func(c *cobra.Command, args []string) error {
		if len(args) > 0 {
			return UnknownCommand(c, args[0])
		}
		if c.HasParent() {
			a.help(c)
		} else {
			a.program.Bare(a)
		}
		return nil
	}
	c.AddCommand(children...)
	return c
}

func (a *App) bare(s Spec) *cobra.Command {
	return &cobra.Command{
		Use:                   s.Use,
		Aliases:               s.Aliases,
		Long:                  s.More,
		Annotations:           map[string]string{writesNote: YesNo(s.Writes), jsonNote: YesNo(s.JSON)},
		SilenceErrors:         true,
		SilenceUsage:          true,
		DisableFlagsInUseLine: true,
		DisableAutoGenTag:     true,
	}
}

// anyNumber is the most arguments of a command that takes any number.
const anyNumber = math.MaxInt

// arguments are how many a command takes by its line of usage: a word is one, [WORD] may be left
// out, WORD... stands for any number of them.
func (s *Spec) arguments() (least, most int) {
	words := strings.Fields(flagInUse.ReplaceAllString(s.Use, ""))[1:]
	most = len(words)
	for _, word := range words {
		if !strings.HasPrefix(word, "[") {
			least++
		}
		if strings.Contains(word, "...") {
			most = anyNumber
		}
	}
	return least, most
}

var flagInUse = regexp.MustCompile(`\[-[^]]*\]`)

func (s *Spec) checkArgs(p *Program, c *cobra.Command, args []string) error {
	least, most := s.arguments()
	if len(args) >= least && len(args) <= most {
		return nil
	}
	f := Usage("%s takes %s and got %d", c.CommandPath(), arity(least, most), len(args))
	f.Hints = p.TooFew[UnderRoot(c)]
	if len(args) > most && likeCommandBelow(c, args[0]) {
		return UnknownCommand(c, args[0])
	}
	if len(args) > most {
		f = Usage("%s takes %s, so %q is one too many", c.CommandPath(), arity(least, most), args[most])
		f.Hints = p.TooMany(c, args[most:])
	}
	if f.Hints == nil {
		f.Hints = []string{c.UseLine()}
	}
	return f
}

func arity(least, most int) string {
	switch {
	case most == 0:
		return "no argument"
	case most == anyNumber:
		return "at least " + document.Counted(least, "argument")
	case least == 0:
		return "at most " + document.Counted(most, "argument")
	case least == most:
		return document.Counted(least, "argument")
	}
	return fmt.Sprintf("%d to %s", least, document.Counted(most, "argument"))
}

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

// Program is what there is to run. It is handed in, so that what runs it knows no command.
type Program struct {
	Root   Spec // without a command
	Groups []Group
	Texts  string     // of each command, as explain reads them
	Shell  string     // id of the group that help and completion stand in
	Bare   func(*App) // tells what the program is, when no command is given

	Examples fs.FS // the charts that are named example:NAME

	AboutPiece []string // the commands, without the program, that --piece has a meaning for

	JSONHelp func(command string) string // tells of the JSON of a command, or of all for ""; "" where there is none

	Values map[string]Completer              // complete the values of flags by name, where they are not a few fixed words
	Before func(arguments []string) []string // mends the command line before it is parsed

	// What is known of slips: hints by command, for too few words; by command and flag, for
	// a flag there is under another name; and for words too many, nil where nobody knows.
	TooFew  map[string][]string
	NoFlag  map[string]string
	TooMany func(c *cobra.Command, words []string) []string

	// Renamed gives the new names of commands and flags by the old ones: "pieces switch", "show --why".
	// Those are understood for one release, with a word on stderr.
	Renamed map[string]string
}

// Group gathers commands by what the knitter is about.
type Group struct {
	ID       string
	Title    string
	Commands []func(*App) *cobra.Command // most used first
}

// Completer lists the values of a flag, or of the next argument, given those so far.
type Completer func(a *App, args []string) []string

// AsksCompletion reports whether a shell asks what the next word may be.
func AsksCompletion(args []string) bool {
	return len(args) > 0 && slices.Contains([]string{cobra.ShellCompRequestCmd, cobra.ShellCompNoDescRequestCmd}, args[0])
}

// completeFlags also takes the quotes off the texts of flags, which a shell shows as they are.
// That is needed only when a shell asks.
func (a *App) completeFlags() {
	for _, c := range WithBelow(a.Root) {
		c.NonInheritedFlags().VisitAll(func(f *pflag.Flag) {
			_, f.Usage = pflag.UnquoteUsage(f)
			if list := a.valuesOf(f); list != nil {
				// The error is for a flag the command does not have.
				_ = c.RegisterFlagCompletionFunc(f.Name, list)
			}
		})
	}
}

func (a *App) valuesOf(f *pflag.Flag) cobra.CompletionFunc {
	list := a.program.Values[f.Name]
	if words, is := f.Value.(*Choice); is {
		list = func(*App, []string) []string { return words.words }
	}
	if number := f.Value.Type() == "int"; number {
		list = func(*App, []string) []string { return nil }
	}
	return a.completing(list)
}

// completing offers those of the words listed that begin as the one on the command line; nil leaves
// files to the shell.
func (a *App) completing(list Completer) cobra.CompletionFunc {
	if list == nil {
		return nil
	}
	return func(_ *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		other := func(word string) bool { return !strings.HasPrefix(word, begun) }
		return slices.DeleteFunc(slices.Clone(list(a, args)), other), cobra.ShellCompDirectiveNoFileComp
	}
}
