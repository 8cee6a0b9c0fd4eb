package frame

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/cmd/paint"
	"strandwise/session"
)

// explain gives commands their texts. Each has a section, headed by its name without the program: what it is
// in a few words, paragraphs that open with what it is for, and examples, indented, that run as they stand.
func (p *Program) explain(commands []*cobra.Command) {
	for _, c := range commands {
		_, section, _ := strings.Cut("\n"+p.Texts, "\n# "+UnderRoot(c)+"\n\n")
		section, _, _ = strings.Cut(section, "\n# ")
		short, long, _ := strings.Cut(section, "\n\n")
		long, examples, _ := strings.Cut(long, "\n\n    ")
		paragraphs := strings.Split(long, "\n\n")
		for i, paragraph := range paragraphs {
			paragraphs[i] = strings.ReplaceAll(paragraph, "\n", " ")
		}
		c.Short, c.Long = short, strings.Trim(strings.Join(paragraphs, "\n\n")+"\n\n"+c.Long, "\n")
		c.Example = strings.TrimSpace(strings.ReplaceAll(examples, "\n    ", "\n"))
	}
}

// helpFunc answers --help. It keeps a fault for run, because cobra takes no error here.
func (a *App) helpFunc(c *cobra.Command, _ []string) {
	if words := c.Flags().Args(); c.HasSubCommands() && len(words) > 0 {
		a.helpErr = UnknownCommand(c, words[0])
		return
	}
	a.help(c)
}

func (a *App) newHelp() *cobra.Command {
	c := a.Parent(Spec{Use: "help [json] [COMMAND...]"})
	c.RunE = func(c *cobra.Command, args []string) error {
		asJSON := len(args) > 0 && args[0] == "json"
		if asJSON {
			args = args[1:]
		}
		about, rest, _ := c.Root().Find(args)
		if len(rest) > 0 {
			return UnknownCommand(about, rest[0])
		}
		if asJSON {
			return a.helpJSON(about)
		}
		a.help(about)
		return nil
	}
	return c
}

func (a *App) helpJSON(c *cobra.Command) error {
	name := ""
	if c.HasParent() {
		name = UnderRoot(c)
	}
	text := a.program.JSONHelp(name)
	if text == "" {
		return Usage("%s has no answer in JSON", c.CommandPath()).Hint("%s help json, for those that have", c.Root().Name())
	}
	_, err := io.WriteString(a.Out, text)
	return err
}

// help reads no stored setting: it never touches the store.
func (a *App) help(c *cobra.Command) {
	a.Settings.open = nil
	w := &HelpPage{Width: a.width()}
	w.Paragraphs(c.Long)
	usage := c.UseLine()
	if c.HasSubCommands() {
		usage = c.CommandPath() + " COMMAND"
	}
	w.Section("Usage", usage)
	w.Section("Examples", strings.Split(c.Example, "\n")...)
	w.children(c)
	w.flags("Flags", c.LocalNonPersistentFlags())
	if c.HasParent() {
		more := "It also takes " + session.Listed(a.commonFlags(c), "and") + ": see " + c.Root().Name() + " --help."
		if AnswersJSON(c) {
			more += " The keys of --json: " + c.Root().Name() + " help json " + UnderRoot(c) + "."
		}
		w.Paragraphs(more)
	} else {
		w.flags("Flags of every command", c.PersistentFlags())
		w.Section("Exit statuses")
		w.Wrapped("  ", ExitLines()...)
	}
	fmt.Fprint(a.Out, w.String())
}

// commonFlags are those flags of every command that c, or one below it, has a use for.
func (a *App) commonFlags(c *cobra.Command) []string {
	fits := map[string]func(*cobra.Command) bool{"help": func(*cobra.Command) bool { return false }, "json": AnswersJSON, PieceKey: a.aboutPiece}
	var names []string
	c.Root().PersistentFlags().VisitAll(func(f *pflag.Flag) {
		if fits[f.Name] == nil || slices.ContainsFunc(WithBelow(c), fits[f.Name]) {
			names = append(names, "--"+f.Name)
		}
	})
	return names
}

// HelpPage lays out help without columns, so that it reads the same aloud.
type HelpPage struct {
	strings.Builder
	Width int
}

// Paragraphs wraps text; a blank line stands above each paragraph but the first of the page.
func (w *HelpPage) Paragraphs(text string) {
	for paragraph := range strings.SplitSeq(text, "\n\n") {
		if w.Len() > 0 {
			w.WriteByte('\n')
		}
		w.Wrapped("", paragraph)
	}
}

// Wrapped prints texts behind a prefix, broken between words to fit the width.
func (w *HelpPage) Wrapped(prefix string, texts ...string) {
	for _, text := range texts {
		for _, line := range paint.Wrap(prefix, strings.Fields(text), w.Width) {
			w.WriteString(line + "\n")
		}
	}
}

// Section begins a section with lines as they are, since they are there to be copied.
func (w *HelpPage) Section(title string, lines ...string) {
	w.WriteString("\n" + title + ":\n")
	for _, line := range lines {
		w.WriteString("  " + line + "\n")
	}
}

func (w *HelpPage) children(c *cobra.Command) {
	groups := c.Groups()
	if c.HasSubCommands() && len(groups) == 0 {
		groups = []*cobra.Group{{Title: "Commands"}}
	}
	for _, g := range groups {
		w.Section(g.Title)
		for _, child := range c.Commands() {
			if child.GroupID == g.ID {
				name := strings.Join(append([]string{child.Name()}, child.Aliases...), ", ")
				w.Wrapped("  ", name+": "+child.Short)
			}
		}
	}
}

func (w *HelpPage) flags(title string, set *pflag.FlagSet) {
	if set.HasAvailableFlags() {
		w.Section(title)
	}
	set.VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			name, text := flagName(f)
			w.WriteString("  " + name + "\n")
			w.Wrapped("      ", text)
		}
	})
}

func flagName(f *pflag.Flag) (name, text string) {
	value, text := pflag.UnquoteUsage(f)
	name = "--" + f.Name
	if f.Shorthand != "" {
		name = "-" + f.Shorthand + ", " + name
	}
	if value != "" {
		name += " " + value
	}
	if d := f.DefValue; d != "" && d != "false" && d != "0" && d != "[]" && !strings.Contains(text, "(default") {
		text += " (default " + d + ")"
	}
	return name, text
}
