package cmd

import (
	"io"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

type exportOptions struct {
	to    string
	force bool
}

func newStoreExport(a *frame.App) *cobra.Command {
	var o exportOptions
	c := a.Leaf(frame.Spec{
		Use:   "export [-o FILE]",
		Short: "write everything as text, to move to another computer",
		Long: "Writes all pieces, charts and settings as lines of JSON, each with a checksum, to read in on another computer with strandwise store import. Without -o they go to standard output.\n\n" +
			"Nothing is written when anything in the store cannot be vouched for. The store is left as it is.",
		Examples: []string{
			"strandwise store export -o pieces.jsonl",
			"strandwise store export > pieces-too.jsonl",
		},
		JSON: true,
	}, func(a *frame.App, _ []string) error { return runStoreExport(a, o) })
	c.Flags().StringVarP(&o.to, "output", "o", frame.FromStdin, "write to `FILE`; - is standard output")
	c.Flags().BoolVar(&o.force, "force", false, "replace FILE when it is there already")
	return c
}

func runStoreExport(a *frame.App, o exportOptions) error {
	if a.Flags.JSON && o.to == frame.FromStdin {
		return frame.Usage("--json would mix the answer with the export, which goes to standard output").
			Hint("strandwise store export --json -o FILE")
	}
	s, err := stored.Store(a)
	if err != nil {
		return err
	}
	var counts store.Counts
	err = a.WritePrivate(o.to, o.force, func(w io.Writer) error {
		counts, err = s.Export(a.Context(), w)
		return err
	})
	if err != nil || o.to == frame.FromStdin {
		return err
	}
	return write(a, 1, &answer.Exported{To: o.to, Counts: counts})
}
