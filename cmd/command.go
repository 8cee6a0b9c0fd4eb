package cmd

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"
)

// writesNote is the annotation of commands that may change the store.
const writesNote = "writes"

// jsonNote is the annotation of commands that have an answer in JSON.
const jsonNote = "json"

// answersJSON reports whether a command has an answer in JSON.
func answersJSON(c *cobra.Command) bool { return c.Annotations[jsonNote] != "" }

// anyNumber is the most arguments of a command that takes any number.
const anyNumber = -1

// orderNote is the annotation by which help sorts commands; cobra itself sorts
// them by name.
const orderNote = "order"

// spec is what a command is, apart from its flags and what it does.
type spec struct {
	use      string   // the line of usage without the program: "knit [PIECE]"
	aliases  []string // other names
	short    string   // a few words for lists
	long     string   // opens with what the command is for; sentences, one paragraph a blank line
	british  string   // what the UK calls it, where that differs; one sentence
	examples []string // two command lines or more that run as they stand

	least, most int  // arguments; most may be anyNumber
	writes      bool // may change the store: its errors say that nothing was saved
	json        bool // has an answer in JSON

	// complete lists what the next argument may be, for the shells. It may look
	// into the store and must not complain. nil leaves files to the shell.
	complete completer
}

// leaf makes a command that does something. The answer of run goes to a.out; flags
// are added by the constructor that calls leaf.
func (a *app) leaf(s spec, run func(ctx context.Context, args []string) error) *cobra.Command {
	c := a.bare(s)
	c.Args = func(c *cobra.Command, args []string) error { return s.checkArgs(a.program, c, args) }
	c.RunE = func(c *cobra.Command, args []string) error {
		if a.flags.json && !s.json {
			return usage("%s has no answer in JSON", c.CommandPath()).hint("leave --json out")
		}
		a.writes.Store(s.writes)
		if err := a.prepare(); err != nil {
			return err
		}
		return run(c.Context(), args)
	}
	if s.complete != nil {
		c.ValidArgsFunction = func(c *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
			return thatBegin(s.complete(a, c.Context(), args), begun), cobra.ShellCompDirectiveNoFileComp
		}
	}
	return c
}

// parent makes a command that only holds others: alone it prints its help, with a
// word that names none of them it refuses.
func (a *app) parent(s spec, children ...*cobra.Command) *cobra.Command {
	c := a.bare(s)
	c.Args = cobra.ArbitraryArgs
	c.RunE = func(c *cobra.Command, args []string) error {
		if len(args) > 0 {
			return unknownCommand(c, args[0])
		}
		a.help(c)
		return nil
	}
	adopt(c, children...)
	return c
}

// adopt adds commands below c, to be listed in the order given.
func adopt(c *cobra.Command, children ...*cobra.Command) {
	for _, child := range children {
		child.Annotations[orderNote] = fmt.Sprintf("%03d", len(c.Commands()))
		c.AddCommand(child)
	}
}

func (a *app) bare(s spec) *cobra.Command {
	c := &cobra.Command{
		Use:                   s.use,
		Aliases:               s.aliases,
		Short:                 s.short,
		Long:                  s.longText(),
		Example:               joinLines(s.examples),
		Annotations:           map[string]string{},
		SilenceErrors:         true,
		SilenceUsage:          true,
		DisableFlagsInUseLine: true,
		DisableAutoGenTag:     true,
	}
	if s.writes {
		c.Annotations[writesNote] = "yes"
	}
	if s.json {
		c.Annotations[jsonNote] = "yes"
	}
	return c
}

// longText is the whole explanation: what the command is for, then the UK word.
func (s *spec) longText() string {
	if s.british == "" {
		return s.long
	}
	return s.long + "\n\n" + s.british
}

// checkArgs refuses too few and too many arguments.
func (s *spec) checkArgs(p *program, c *cobra.Command, args []string) error {
	if len(args) >= s.least && (len(args) <= s.most || s.most == anyNumber) {
		return nil
	}
	f := usage("%s takes %s and got %d", c.CommandPath(), s.arity(), len(args))
	hints := p.tooFew[underRoot(c)]
	if s.most != anyNumber && len(args) > s.most {
		f = usage("%s takes %s, so %q is one too many", c.CommandPath(), s.arity(), args[s.most])
		hints = nil
		if p.tooMany != nil {
			hints = p.tooMany(c, args[s.most:])
		}
	}
	if hints == nil {
		hints = []string{c.UseLine()}
	}
	f.hints = hints
	return f
}

// arity says how many arguments the command takes.
func (s *spec) arity() string {
	switch {
	case s.most == 0:
		return "no argument"
	case s.most == anyNumber:
		return "at least " + counted(s.least, "argument")
	case s.least == 0:
		return "at most " + counted(s.most, "argument")
	case s.least == s.most:
		return counted(s.least, "argument")
	}
	return fmt.Sprintf("%d to %s", s.least, counted(s.most, "argument"))
}
