package frame

import (
	"fmt"
	"slices"

	"strandwise/cmd/document"

	"github.com/spf13/cobra"
)

// writesNote is the annotation of commands that may change the store.
const writesNote = "writes"

// jsonNote is the annotation of commands that have an answer in JSON.
const jsonNote = "json"

// AnswersJSON reports whether a command has an answer in JSON.
func AnswersJSON(c *cobra.Command) bool { return c.Annotations[jsonNote] != "" }

// AnyNumber is the most arguments of a command that takes any number.
const AnyNumber = -1

// orderNote is the annotation by which help sorts commands; cobra itself sorts
// them by name.
const orderNote = "order"

// Spec is what a command is, apart from its texts, its flags and what it does.
type Spec struct {
	Use     string   // the line of usage without the program: "knit [PIECE]"
	Aliases []string // other names
	More    string   // paragraphs behind those of Program.Texts

	Least, Most int  // arguments; Most may be AnyNumber
	Writes      bool // may change the store: its errors say that nothing was saved
	JSON        bool // has an answer in JSON

	// Complete lists what the next argument may be, for the shells. It may look
	// into the store and must not complain. nil leaves files to the shell.
	Complete Completer
}

// Leaf makes a command that does something. The answer of run goes to a.Out; flags
// are added by the constructor that calls it.
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
		if err := a.prepare(); err != nil {
			return err
		}
		return run(a, args)
	}
	if s.Complete != nil {
		c.ValidArgsFunction = func(c *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
			return thatBegin(s.Complete(a, args), begun), cobra.ShellCompDirectiveNoFileComp
		}
	}
	return c
}

// aboutPiece reports whether --piece has a meaning for a command.
func (a *App) aboutPiece(c *cobra.Command) bool {
	return slices.Contains(a.program.AboutPiece, UnderRoot(c))
}

// Parent makes a command that only holds others: alone it prints its help, with a
// word that names none of them it refuses.
func (a *App) Parent(s Spec, children ...*cobra.Command) *cobra.Command {
	c := a.bare(s)
	c.Args = cobra.ArbitraryArgs
	c.RunE = func(c *cobra.Command, args []string) error {
		if len(args) > 0 {
			return UnknownCommand(c, args[0])
		}
		a.help(c)
		return nil
	}
	Adopt(c, children...)
	return c
}

// Adopt adds commands below c, to be listed in the order given.
func Adopt(c *cobra.Command, children ...*cobra.Command) {
	for _, child := range children {
		child.Annotations[orderNote] = fmt.Sprintf("%03d", len(c.Commands()))
		c.AddCommand(child)
	}
}

func (a *App) bare(s Spec) *cobra.Command {
	c := &cobra.Command{
		Use:                   s.Use,
		Aliases:               s.Aliases,
		Long:                  s.More,
		Annotations:           map[string]string{},
		SilenceErrors:         true,
		SilenceUsage:          true,
		DisableFlagsInUseLine: true,
		DisableAutoGenTag:     true,
	}
	if s.Writes {
		c.Annotations[writesNote] = "yes"
	}
	if s.JSON {
		c.Annotations[jsonNote] = "yes"
	}
	return c
}

// checkArgs refuses too few and too many arguments.
func (s *Spec) checkArgs(p *Program, c *cobra.Command, args []string) error {
	if len(args) >= s.Least && (len(args) <= s.Most || s.Most == AnyNumber) {
		return nil
	}
	f := Usage("%s takes %s and got %d", c.CommandPath(), s.arity(), len(args))
	hints := p.TooFew[UnderRoot(c)]
	if s.Most != AnyNumber && len(args) > s.Most {
		f = Usage("%s takes %s, so %q is one too many", c.CommandPath(), s.arity(), args[s.Most])
		hints = p.TooMany(c, args[s.Most:])
	}
	if hints == nil {
		hints = []string{c.UseLine()}
	}
	f.hints = hints
	return f
}

// arity says how many arguments the command takes.
func (s *Spec) arity() string {
	switch {
	case s.Most == 0:
		return "no argument"
	case s.Most == AnyNumber:
		return "at least " + document.Counted(s.Least, "argument")
	case s.Least == 0:
		return "at most " + document.Counted(s.Most, "argument")
	case s.Least == s.Most:
		return document.Counted(s.Least, "argument")
	}
	return fmt.Sprintf("%d to %s", s.Least, document.Counted(s.Most, "argument"))
}
