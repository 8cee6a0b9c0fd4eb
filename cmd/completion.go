package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

var shells = []string{"bash", "zsh", "fish", "powershell"}

func newCompletion(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{Use: "completion bash|zsh|fish|powershell", Complete: oneAmong(shells)}, runCompletion)
}

func runCompletion(a *frame.App, args []string) error {
	switch args[0] {
	case "bash":
		return a.Root.GenBashCompletionV2(a.Out, true)
	case "zsh":
		return a.Root.GenZshCompletion(a.Out)
	case "fish":
		return a.Root.GenFishCompletion(a.Out, true)
	case "powershell":
		return a.Root.GenPowerShellCompletionWithDesc(a.Out)
	}
	return frame.Usage("completion knows %s, not %q", session.Listed(shells, "and"), args[0]).
		HintNear(args[0], shells, "strandwise completion %s", "strandwise completion bash")
}

// completers finds the values of flags by name, where they are not a few fixed words.
var completers = map[string]frame.Completer{
	"piece":    completePieces,
	"dominant": completeDominant,
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
