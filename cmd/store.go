package cmd

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

func newStore(a *frame.App) *cobra.Command {
	c := a.Leaf(frame.Spec{Use: "store [COMMAND]", JSON: true}, withTaken(stored.Store, runStoreWhere))
	c.Args = func(c *cobra.Command, args []string) error {
		switch {
		case len(args) == 0:
			return nil
		case frame.NearestCommand(c, args[0]) != "":
			return frame.UnknownCommand(c, args[0])
		}
		return frame.Usage("strandwise store: no such command %q", args[0]).
			Hint("strandwise store, which says where the pieces are").Hint("strandwise store --help, which lists what there is")
	}
	check := a.Leaf(frame.Spec{Use: "check", JSON: true}, withTaken(stored.Store, runStoreCheck))
	c.AddCommand(check, newStoreBackup(a), newStoreRestore(a), newStoreExport(a), newStoreImport(a), newStoreSalvage(a))
	return c
}

func runStoreWhere(a *frame.App, s *store.Store, _ []string) error {
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

type copyOptions struct{ outFile }

func (o *copyOptions) add(set *pflag.FlagSet, usual, usage string) {
	set.Bool("force", false, "replace FILE when it is there already")
	o.name = usual
	o.outFile.add(set, "output", "o", usage)
}

func newStoreBackup(a *frame.App) *cobra.Command {
	o := &copyOptions{}
	c := a.Leaf(frame.Spec{Use: "backup [-o FILE]", Writes: true, JSON: true}, withTaken(stored.Store, o.backup))
	o.add(c.Flags(), "", "copy the backup to `FILE` as well, on a memory stick for example; - is standard output")
	return c
}

func (o *copyOptions) backup(a *frame.App, s *store.Store, _ []string) error {
	if o.asked() { // before a backup is made: it might take the place of an older one
		if err := a.CheckOutput(o.name, o.force()); err != nil {
			return err
		}
	}
	made, err := committed(a, func() (store.Backup, error) { return s.Backup(a.Context(), store.ReasonAsked) })
	if err != nil {
		return err
	}
	if o.asked() {
		err := a.WritePrivate(o.name, o.force(), func(w io.Writer) error {
			data, err := os.ReadFile(made.Path)
			if err == nil {
				_, err = w.Write(data)
			}
			return err
		})
		if err != nil || o.isAnswer() {
			return err // the bytes are the answer
		}
	}
	all, err := s.Backups()
	if err != nil {
		return err
	}
	return a.Answer(1, &answer.BackedUp{Backup: made, Copy: o.name, Kept: len(all)})
}

func newStoreExport(a *frame.App) *cobra.Command {
	o := &copyOptions{}
	c := a.Leaf(frame.Spec{Use: "export [-o FILE]", JSON: true}, withTaken(stored.Store, o.export))
	o.add(c.Flags(), frame.FromStdin, "write to `FILE`; - is standard output")
	return c
}

func (o *copyOptions) export(a *frame.App, s *store.Store, _ []string) (err error) {
	var counts store.Counts
	err = a.WritePrivate(o.name, o.force(), func(w io.Writer) error {
		counts, err = s.Export(a.Context(), w)
		return err
	})
	if err != nil || o.isAnswer() {
		return err
	}
	return a.Answer(1, &answer.Exported{To: o.name, Counts: counts})
}

func newStoreRestore(a *frame.App) *cobra.Command {
	var dry bool
	c := a.Leaf(frame.Spec{Use: "restore [BACKUP]", Writes: true, JSON: true, Complete: backupPaths},
		withTaken(stored.Store, func(a *frame.App, s *store.Store, args []string) error { return runStoreRestore(a, s, args, dry) }))
	c.Flags().BoolVar(&dry, "dry-run", false, "say what would differ and change nothing")
	return c
}

func runStoreRestore(a *frame.App, s *store.Store, args []string, dry bool) error {
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
	done, err := committed(a, func() (store.Restored, error) { return s.Restore(a.Context(), from, o) })
	if err != nil {
		return err
	}
	return a.Answer(1, answer.NewRestored(done, false))
}

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

func backupPaths(a *frame.App, _ []string) []string {
	s, err := stored.Store(a)
	if err != nil {
		return nil
	}
	all, _ := s.Backups()
	return listOf(all, func(b store.Backup) string { return b.Path })
}

func runStoreCheck(a *frame.App, s *store.Store, _ []string) error {
	found, err := stored.Check(a, s)
	if err != nil {
		return err
	}
	c := &answer.StoreCheck{
		Path: s.Path(), Sound: len(found.Problems) == 0, Problems: found.Problems, Notes: found.Notes, Contents: found.Contents,
		Warnings: listOf(found.Warnings, func(w store.Warning) string { return w.Text }),
	}
	if !a.Flags.JSON {
		a.Warn(found.Warnings)
		if !c.Sound {
			return damagedStore(c)
		}
	}
	if !c.Sound {
		a.Status = frame.ExitDamaged
	}
	return a.Answer(1, c)
}

const shownProblems = 10

func damagedStore(c *answer.StoreCheck) error {
	lines := listOf(c.Problems[:min(len(c.Problems), shownProblems)], func(p stored.Finding) string { return "\n  " + p.String() })
	if more := len(c.Problems) - shownProblems; more > 0 {
		lines = append(lines, fmt.Sprintf("\n  and %d more", more))
	}
	problems := document.Counted(len(c.Problems), "problem")
	return frame.NewFault(frame.ExitDamaged, "%s is damaged (%s):%s", c.Path, problems, strings.Join(lines, "")).
		Hint("strandwise store restore, which puts the newest backup in its place").
		Hint("strandwise store salvage FILE, which gathers what is whole into a new file")
}

func newStoreSalvage(a *frame.App) *cobra.Command {
	var charts []string
	c := a.Leaf(frame.Spec{Use: "salvage FILE", Writes: true, JSON: true},
		withTaken(stored.Store, func(a *frame.App, s *store.Store, args []string) error { return runStoreSalvage(a, s, args[0], charts) }))
	c.Flags().StringArrayVar(&charts, "chart", nil, "take a lost chart from `FILE`; may be given several times")
	return c
}

func runStoreSalvage(a *frame.App, s *store.Store, to string, charts []string) error {
	var given []stored.Part
	for _, word := range charts {
		part, err := stored.ReadChart(a, word)
		if err != nil {
			return err
		}
		given = append(given, part)
	}
	var pieces []stored.Rescued
	rejoin := func(whole *store.Parcel, found []store.SalvagedPiece) (err error) {
		for _, part := range given {
			whole.AddChart(part.Bytes)
		}
		pieces, err = stored.Rejoin(whole, found)
		return err
	}
	done, err := committed(a, func() (store.Salvaged, error) { return s.Salvage(a.Context(), to, rejoin) })
	if err != nil {
		return err
	}
	findCharts(a, s, pieces)
	return a.Answer(1, &answer.Salvaged{To: to, Sources: done.Sources, Sure: done.Sure, Charts: done.Charts, Settings: done.Settings, Pieces: pieces})
}

// findCharts tells from which files the store read the charts that are lost, as far as it can.
func findCharts(a *frame.App, s *store.Store, pieces []stored.Rescued) {
	_ = s.View(a.Context(), func(tx *store.Tx) error {
		for _, p := range pieces {
			for i := range p.Waits {
				path, _ := tx.Cache(stored.FileKey(p.Waits[i].Hash))
				p.Waits[i].File = frame.PlainText(path)
			}
		}
		return nil
	})
}
