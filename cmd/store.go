package cmd

import (
	"errors"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
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
	c.AddCommand(newStoreCheck(a), newStoreBackup(a), newStoreRestore(a),
		newStoreExport(a), newStoreImport(a), newStoreSalvage(a))
	return c
}

func runStoreWhere(a *frame.App, _ []string) error {
	s, err := stored.Store(a)
	if err != nil {
		return err
	}
	body := &answer.Store{Path: s.Path(), Origin: a.Settings.Get(frame.StoreKey).Origin, Folder: s.BackupFolder()}
	info, err := os.Stat(s.Path())
	switch {
	case err == nil:
		body.Exists, body.Bytes = true, info.Size()
	case !errors.Is(err, fs.ErrNotExist):
		return frame.Unusable("%s cannot be looked at: %v", s.Path(), frame.Reason(err)).Because(err).
			Hint("--store PATH, or set STRANDWISE_STORE, to point elsewhere")
	}
	if body.Backups, err = s.Backups(); err != nil {
		return err
	}
	return a.Answer(1, body)
}
