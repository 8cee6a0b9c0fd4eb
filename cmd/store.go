package cmd

import (
	"context"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
	"strandwise/session"
	"strandwise/store"
)

// newStore makes the parent of the commands that look after the file in which all
// pieces are kept.
func newStore(a *frame.App) *cobra.Command {
	c := a.Leaf(frame.Spec{
		Use:   "store [COMMAND]",
		Short: "where your pieces are kept; look after that file",
		Long: "Looks after the store, the one file that keeps all your pieces. Alone it says where the store is and what made it so, how large it is, and which backups there are, the oldest first; it opens nothing and changes nothing.\n\n" +
			"A backup is made by itself after the first step of a day, before an import, and before a newer version changes the store.",
		Examples: []string{
			"strandwise store",
			"strandwise store check",
		},
		JSON: true,
	}, func(context.Context, []string) error { return runStoreWhere(a) })
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

// byteUnits are the units of a file's size, each 1024 of the one before.
var byteUnits = []string{"bytes", "KiB", "MiB", "GiB"}

// sized is a number of bytes in the unit that fits, rounded to the nearest, halves
// up.
func sized(bytes int64) string {
	unit := 0
	for ; bytes >= 1024 && unit < len(byteUnits)-1; unit++ {
		bytes = (bytes + 512) / 1024
	}
	return fmt.Sprintf("%d %s", bytes, byteUnits[unit])
}

// toTheMinute is a time as the knitter reads it, on her own clock.
func toTheMinute(t time.Time) string { return t.Format("2006-01-02 15:04") }

// contentWords counts what a store holds.
func contentWords(c store.Contents) string {
	return session.Listed([]string{
		frame.Counted(c.Pieces, "piece"), frame.Counted(c.Events, "event"),
		frame.Counted(c.Charts, "chart"), frame.Counted(c.Settings, "setting"),
	}, "and")
}

// warnings is where to print what must be read before a question is answered: with
// the question, on stderr. Where --yes answers, or nobody can, it is nowhere.
func warnings(a *frame.App) io.Writer {
	if a.Flags.Yes || !a.Env.InTTY || !a.Env.ErrTTY {
		return io.Discard
	}
	return a.Err
}

func events(n uint64) string { return frame.Counted(int(n), "event") }
