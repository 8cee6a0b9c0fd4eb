package cmd

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"strandwise/store"
)

type exportOptions struct {
	to    string
	force bool
}

func newStoreExport(a *app) *cobra.Command {
	var o exportOptions
	c := a.leaf(spec{
		use:   "export [-o FILE]",
		short: "write everything as text, to move to another computer",
		long: "Writes all pieces, charts and settings as lines of JSON, each with a checksum, to read in on another computer with strandwise store import. Without -o they go to standard output.\n\n" +
			"Nothing is written when anything in the store cannot be vouched for. The store is left as it is.",
		examples: []string{
			"strandwise store export -o pieces.jsonl",
			"strandwise store export > pieces-too.jsonl",
		},
		json: true,
	}, func(ctx context.Context, _ []string) error { return runStoreExport(a, ctx, o) })
	c.Flags().StringVarP(&o.to, "output", "o", fromStdin, "write to `FILE`; - is standard output")
	c.Flags().BoolVar(&o.force, "force", false, "replace FILE when it is there already")
	return c
}

// exportBody is the answer of `store export` in JSON, schema 1.
type exportBody struct {
	To string `json:"to"`
	store.Counts
}

func runStoreExport(a *app, ctx context.Context, o exportOptions) error {
	if a.flags.json && o.to == fromStdin {
		return usage("--json would mix the answer with the export, which goes to standard output").
			hint("strandwise store export --json -o FILE")
	}
	s, err := a.openStore()
	if err != nil {
		return err
	}
	var counts store.Counts
	err = a.writePrivate(ctx, o.to, o.force, func(w io.Writer) error {
		counts, err = s.Export(ctx, w)
		return err
	})
	if err != nil || o.to == fromStdin {
		return err
	}
	if a.flags.json {
		return a.answerJSON(1, exportBody{o.to, counts})
	}
	a.say(fmt.Sprintf("Wrote %s to %s.", countWords(counts), o.to), "next, on the other computer: strandwise store import "+o.to)
	return nil
}

func countWords(c store.Counts) string {
	return contentWords(store.Contents{Counts: c})
}
