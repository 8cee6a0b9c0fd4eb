package cmd

import (
	"io"
	"os"
	"path/filepath"

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
	if err := backupTarget(a, o); err != nil {
		return err
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
		if err := a.WritePrivate(o.to, o.force, copyOf(made.Path)); err != nil {
			return err
		}
	}
	if o.to == frame.FromStdin {
		return nil // the bytes are the answer
	}
	all, err := s.Backups()
	if err != nil {
		return err
	}
	return a.Answer(1, &answer.BackedUp{Backup: made, Copy: o.to, Kept: len(all)})
}

// backupTarget refuses a copy that could not be made, before a backup is: it might
// take the place of an older one.
func backupTarget(a *frame.App, o *backupOptions) error {
	switch {
	case o.to == "":
		return nil
	case o.to == frame.FromStdin && a.Flags.JSON:
		return frame.Usage("-o - and --json both want standard output").Hint("strandwise store backup -o FILE --json")
	case o.to == frame.FromStdin:
		return nil
	}
	target, _, err := a.OutputTarget(o.to, o.force)
	if err == nil {
		_, err = os.Stat(filepath.Dir(target))
	}
	if err != nil {
		return frame.CannotWrite(o.to, err)
	}
	return nil
}

// copyOf writes the bytes of a backup, which nothing changes once it has its name.
func copyOf(path string) func(io.Writer) error {
	return func(w io.Writer) error {
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		_, err = io.Copy(w, f)
		return err
	}
}
