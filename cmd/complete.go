package cmd

import (
	"context"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/session"
	"strandwise/store"
)

// completer lists the values of a flag of command c, given the arguments so far.
type completer func(a *app, ctx context.Context, args []string) []string

// completers finds the values of flags by name, where they are not a few fixed
// words.
var completers = map[string]completer{
	"piece":    (*app).completePieces,
	"dominant": (*app).completeDominant,
}

// asksCompletion reports whether a shell asks what the next word may be.
func asksCompletion(args []string) bool {
	return len(args) > 0 && slices.Contains([]string{cobra.ShellCompRequestCmd, cobra.ShellCompNoDescRequestCmd}, args[0])
}

// completeFlags tells cobra how the value of each flag is completed, and takes the quotes
// off its text, which a shell shows as it is. That is needed only when a shell asks.
func (a *app) completeFlags() {
	for _, c := range withBelow(a.root) {
		c.NonInheritedFlags().VisitAll(func(f *pflag.Flag) {
			_, f.Usage = pflag.UnquoteUsage(f)
			if list := a.valuesOf(f); list != nil {
				// The error is for a flag the command does not have.
				_ = c.RegisterFlagCompletionFunc(f.Name, list)
			}
		})
	}
}

// valuesOf is how the values of a flag are completed; nil leaves files to the shell.
func (a *app) valuesOf(f *pflag.Flag) cobra.CompletionFunc {
	list := completers[f.Name]
	if words, is := f.Value.(*choice); is {
		list = func(*app, context.Context, []string) []string { return words.words }
	}
	if number := f.Value.Type() == "int"; number {
		list = func(*app, context.Context, []string) []string { return nil }
	}
	if list == nil {
		return nil
	}
	return func(c *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		return thatBegin(list(a, c.Context(), args), begun), cobra.ShellCompDirectiveNoFileComp
	}
}

// thatBegin keeps the words that begin as the one on the command line.
func thatBegin(words []string, begun string) []string {
	var kept []string
	for _, word := range words {
		if strings.HasPrefix(word, begun) {
			kept = append(kept, word)
		}
	}
	return kept
}

// glance reads the store for a completion: not for long, and without a word when it
// cannot be read.
func (a *app) glance(ctx context.Context, look func(*store.Tx) error) {
	s, err := a.storeWith(store.Options{LockWait: settingsWait, Watch: settingsWatch})
	if err == nil {
		_ = s.View(ctx, look)
	}
}

// completePieces lists the names of all pieces, the oldest first.
func (a *app) completePieces(ctx context.Context, _ []string) []string {
	var names []string
	a.glance(ctx, func(tx *store.Tx) error {
		pieces, err := listPieces(tx)
		for _, p := range pieces {
			names = append(names, p.Name)
		}
		return err
	})
	return names
}

// completeYarns lists the names of the yarns: those of the charts among the
// arguments, else those of the current piece.
func (a *app) completeYarns(ctx context.Context, args []string) []string {
	var names []string
	for _, word := range args {
		if part, err := a.readPart(ctx, word); err == nil && part.chart != nil {
			for _, y := range part.chart.Yarns {
				names = append(names, y.Name)
			}
		}
	}
	if names == nil {
		names = a.yarnsOfPiece(ctx)
	}
	return distinct(names)
}

func (a *app) yarnsOfPiece(ctx context.Context) []string {
	name, err := a.currentPiece()
	if err != nil {
		return nil
	}
	var names []string
	a.glance(ctx, func(tx *store.Tx) error {
		p, err := open(tx, name)
		if err != nil {
			return err
		}
		for _, y := range p.Layout.Fabric.Yarns {
			names = append(names, y.Name)
		}
		return nil
	})
	return names
}

// completeDominant lists what --dominant takes.
func (a *app) completeDominant(ctx context.Context, args []string) []string {
	return append([]string{session.DominantPattern, session.DominantBackground}, a.completeYarns(ctx, args)...)
}

// distinct drops what stood in the list before, and what is empty.
func distinct(names []string) []string {
	var kept []string
	for _, name := range names {
		if strings.TrimSpace(name) != "" && !slices.Contains(kept, name) {
			kept = append(kept, name)
		}
	}
	return kept
}
