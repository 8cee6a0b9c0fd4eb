package cmd

import (
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

type shell struct {
	name  string
	write func(*cobra.Command, io.Writer) error
}

var shells = []shell{
	{"bash", func(c *cobra.Command, w io.Writer) error { return c.GenBashCompletionV2(w, true) }},
	{"zsh", func(c *cobra.Command, w io.Writer) error { return c.GenZshCompletion(w) }},
	{"fish", func(c *cobra.Command, w io.Writer) error { return c.GenFishCompletion(w, true) }},
	{"powershell", func(c *cobra.Command, w io.Writer) error { return c.GenPowerShellCompletionWithDesc(w) }},
}

func shellNames() []string {
	return listOf(shells, func(s shell) string { return s.name })
}

func newCompletion(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{
		Use:      "completion bash|zsh|fish|powershell",
		Complete: func(*frame.App, []string) []string { return shellNames() },
	}, runCompletion)
}

func runCompletion(a *frame.App, args []string) error {
	names := shellNames()
	at := slices.Index(names, args[0])
	if at < 0 {
		return frame.Usage("completion knows %s, not %q", session.Listed(names, "and"), args[0]).
			HintNear(args[0], names, "strandwise completion %s", "strandwise completion bash")
	}
	return shells[at].write(a.Root, a.Out)
}

// completers finds the values of flags by name, where they are not a few fixed words.
var completers = map[string]frame.Completer{
	"piece":    completePieces,
	"dominant": completeDominant,
}

func completePieces(a *frame.App, _ []string) []string {
	var pieces []stored.Listed
	a.Glance(func(tx *store.Tx) (err error) {
		pieces, err = stored.List(tx)
		return err
	})
	return listOf(pieces, func(p stored.Listed) string { return p.Name })
}

// completeDominant takes the yarns of the charts among the arguments, else those of the current piece.
func completeDominant(a *frame.App, args []string) []string {
	var yarns []chart.Yarn
	for _, word := range args {
		if part, err := stored.ReadPart(a, word); err == nil && part.Chart != nil {
			yarns = append(yarns, part.Chart.Yarns...)
		}
	}
	if yarns == nil {
		a.Glance(func(tx *store.Tx) error {
			p, err := stored.Current(a, tx)
			if err == nil {
				yarns = p.Layout.Fabric.Yarns
			}
			return err
		})
	}
	return dominantWords(yarns)
}

func dominantWords(yarns []chart.Yarn) []string {
	names := []string{session.DominantPattern, session.DominantBackground}
	for _, y := range yarns {
		if strings.TrimSpace(y.Name) != "" && !slices.Contains(names, y.Name) {
			names = append(names, y.Name)
		}
	}
	return names
}
