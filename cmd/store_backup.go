package cmd

import (
	"io"
	"os"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

type backupOptions struct {
	to    string
	force bool
}

func newStoreBackup(a *frame.App) *cobra.Command {
	o := &backupOptions{}
	c := a.Leaf(frame.Spec{Use: "backup [-o FILE]", Writes: true, JSON: true}, o.run)
	c.Flags().StringVarP(&o.to, "output", "o", "", "copy the backup to `FILE` as well, on a memory stick for example; - is standard output")
	c.Flags().BoolVar(&o.force, "force", false, "replace FILE when it is there already")
	return c
}

func (o *backupOptions) run(a *frame.App, _ []string) error {
	if o.to != "" { // before a backup is made: it might take the place of an older one
		if err := a.CheckOutput(o.to, o.force); err != nil {
			return err
		}
	}
	s, err := stored.Store(a)
	if err != nil {
		return err
	}
	var made store.Backup
	err = a.Commit(func() error {
		made, err = s.Backup(a.Context(), store.ReasonAsked)
		return err
	})
	if err != nil {
		return err
	}
	if o.to != "" {
		err := a.WritePrivate(o.to, o.force, func(w io.Writer) error {
			data, err := os.ReadFile(made.Path)
			if err == nil {
				_, err = w.Write(data)
			}
			return err
		})
		if err != nil || o.to == frame.FromStdin {
			return err // the bytes are the answer
		}
	}
	all, err := s.Backups()
	if err != nil {
		return err
	}
	return a.Answer(1, &answer.BackedUp{Backup: made, Copy: o.to, Kept: len(all)})
}
