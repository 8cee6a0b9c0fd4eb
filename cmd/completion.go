package cmd

import (
	"context"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/frame"
)

// shells lists the shells that can complete our words, each with what writes its
// script.
var shells = []struct {
	name  string
	write func(*cobra.Command, io.Writer) error
}{
	{"bash", func(c *cobra.Command, w io.Writer) error { return c.GenBashCompletionV2(w, true) }},
	{"zsh", func(c *cobra.Command, w io.Writer) error { return c.GenZshCompletion(w) }},
	{"fish", func(c *cobra.Command, w io.Writer) error { return c.GenFishCompletion(w, true) }},
	{"powershell", func(c *cobra.Command, w io.Writer) error { return c.GenPowerShellCompletionWithDesc(w) }},
}

func shellNames() []string {
	names := make([]string, len(shells))
	for i, s := range shells {
		names[i] = s.name
	}
	return names
}

func newCompletion(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{
		Use:   "completion bash|zsh|fish|powershell",
		Short: "print the script that completes words in a shell",
		Long: "Prints the script with which a shell completes commands, flags and the names of your pieces and yarns when you press Tab.\n\n" +
			"Load it from the shell's startup file, as in `source <(strandwise completion bash)`.",
		Examples: []string{
			"strandwise completion bash > strandwise.bash",
			"strandwise completion fish > strandwise.fish",
		},
		Least: 1, Most: 1,
		Complete: func(*frame.App, context.Context, []string) []string { return shellNames() },
	}, func(_ context.Context, args []string) error { return runCompletion(a, args[0]) })
}

func runCompletion(a *frame.App, name string) error {
	names := shellNames()
	at := slices.Index(names, name)
	if at < 0 {
		f := frame.Usage("completion knows %s, not %q", frame.Listed(names, "and"), name)
		if near := chart.Nearest(name, names); near != "" {
			return f.Hint("strandwise completion %s", near)
		}
		return f.Hint("strandwise completion bash")
	}
	return shells[at].write(a.Root, a.Out)
}
