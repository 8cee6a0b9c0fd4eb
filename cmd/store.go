package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/document"
	"strandwise/cmd/frame"
)

// newStore makes the parent of the commands that look after the file in which all
// pieces are kept.
func newStore(a *frame.App) *cobra.Command {
	c := a.Leaf(frame.Spec{Use: "store [COMMAND]", JSON: true}, runStoreWhere)
	c.Args = func(c *cobra.Command, args []string) error {
		switch {
		case len(args) == 0:
			return nil
		case frame.NearestCommand(c, args[0]) == "":
			return frame.Usage("strandwise store: no such command %q", args[0]).
				Hint("strandwise store, which says where the pieces are").Hint("strandwise store --help, which lists what there is")
		}
		return frame.UnknownCommand(c, args[0])
	}
	frame.Adopt(c, newStoreWhere(a), newStoreCheck(a), newStoreBackup(a), newStoreRestore(a),
		newStoreExport(a), newStoreImport(a), newStoreSalvage(a))
	return c
}

// warnBefore prints what must be read before a question is answered, with the question, on
// stderr. Where --yes answers, or nobody can, it is not.
func warnBefore(a *frame.App, d document.Document) {
	if a.Flags.Yes || !a.Env.InTTY || !a.Env.ErrTTY {
		return
	}
	look := look(a)
	look.Quiet = false
	_ = document.Write(a.Err, d, look)
}
