package frame

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

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
