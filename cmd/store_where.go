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

// newStoreWhere is how store alone was asked for once.
func newStoreWhere(a *frame.App) *cobra.Command {
	c := a.Leaf(frame.Spec{Use: "where", JSON: true}, func(a *frame.App, _ []string) error {
		a.Renamed("store where", "store")
		return runStoreWhere(a, nil)
	})
	c.Hidden = true
	return c
}

func runStoreWhere(a *frame.App, _ []string) error {
	s, err := stored.Store(a)
	if err != nil {
		return err
	}
	origin, err := a.Settings.Get(frame.StoreKey)
	if err != nil {
		return err
	}
	body := &answer.Store{Path: s.Path(), Origin: origin.Origin, Folder: s.BackupFolder()}
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
	return write(a, 1, body)
}
