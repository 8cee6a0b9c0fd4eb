package cmd

import (
	"os"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

func newStoreRestore(a *frame.App) *cobra.Command {
	var dry bool
	c := a.Leaf(frame.Spec{Use: "restore [BACKUP]", Writes: true, JSON: true, Complete: backupPaths},
		func(a *frame.App, args []string) error { return runStoreRestore(a, args, dry) })
	c.Flags().BoolVar(&dry, "dry-run", false, "say what would differ and change nothing")
	return c
}

func runStoreRestore(a *frame.App, args []string, dry bool) error {
	s, err := stored.Store(a)
	if err != nil {
		return err
	}
	from, err := chosenBackup(s, args)
	if err != nil {
		return err
	}
	plan, err := s.Restore(a.Context(), from, store.RestoreOptions{DryRun: true})
	if err != nil {
		return err
	}
	if dry {
		return a.Answer(1, answer.NewRestored(plan, true))
	}
	a.WarnBefore(answer.NewRestored(plan, true).Warning())
	if err := a.Confirm("put " + from + " in the place of the store"); err != nil {
		return err
	}
	var o store.RestoreOptions
	if !a.Flags.Yes {
		o.Over = &plan.Seen // what was named in the question, and no more
	}
	var done store.Restored
	err = a.Commit(func() error {
		done, err = s.Restore(a.Context(), from, o)
		return err
	})
	if err != nil {
		return err
	}
	return a.Answer(1, answer.NewRestored(done, false))
}

// chosenBackup is the file named, else the newest backup.
func chosenBackup(s *store.Store, args []string) (string, error) {
	if len(args) > 0 {
		if _, err := os.Stat(args[0]); err != nil {
			return "", frame.CannotRead(args[0], err)
		}
		return args[0], nil
	}
	all, err := s.Backups()
	if err != nil {
		return "", err
	}
	if len(all) == 0 {
		return "", frame.Unusable("there is no backup in %s", s.BackupFolder()).
			Hint("strandwise store restore FILE, with a store kept elsewhere").
			Hint("strandwise store salvage FILE, if the store is damaged")
	}
	return all[len(all)-1].Path, nil
}

// backupPaths completes the names of backups.
func backupPaths(a *frame.App, _ []string) []string {
	s, err := stored.Store(a)
	if err != nil {
		return nil
	}
	all, _ := s.Backups()
	return listOf(all, func(b store.Backup) string { return b.Path })
}
