package frame

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"strandwise/cmd/document"

	"github.com/spf13/cobra"
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
