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
	o := &exportOptions{}
	c := a.Leaf(frame.Spec{Use: "export [-o FILE]", JSON: true}, o.run)
	c.Flags().StringVarP(&o.to, "output", "o", frame.FromStdin, "write to `FILE`; - is standard output")
	c.Flags().BoolVar(&o.force, "force", false, "replace FILE when it is there already")
	return c
}

func (o *exportOptions) run(a *frame.App, _ []string) error {
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
	return a.Answer(1, &answer.Exported{To: o.to, Counts: counts})
}
