package cmd

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

func newStoreRestore(a *frame.App) *cobra.Command {
	var dry bool
	c := a.Leaf(frame.Spec{
		Use:   "restore [BACKUP]",
		Short: "put a backup in the place of the store",
		Long: "Puts a backup in the place of the store: the newest, or the file you name. It reads the backup through first, says what will differ, asks, and keeps the present file under another name beside it.\n\n" +
			"strandwise store lists the backups.",
		Examples: []string{
			"strandwise store restore --dry-run",
			"strandwise store restore --yes",
		},
		Most: 1, Writes: true, JSON: true,
		Complete: backupPaths,
	}, func(ctx context.Context, args []string) error { return runStoreRestore(a, ctx, args, dry) })
	c.Flags().BoolVar(&dry, "dry-run", false, "say what would differ and change nothing")
	return c
}

// restoreBody is the answer of `store restore` in JSON, schema 1. aside is "" in a dry
// run and where there was no store; unreadable says why the former store could not
// be compared, else "". changes leaves out the pieces that stay as they are.
type restoreBody struct {
	DryRun     bool                `json:"dry_run"`
	From       string              `json:"from"`
	Aside      string              `json:"aside"`
	Unreadable string              `json:"unreadable"`
	Pieces     int                 `json:"pieces"`
	Events     int                 `json:"events"`
	Changes    []restoreChangeBody `json:"changes"`
}

// restoreChangeBody is how a piece differs: the events it has in the store and in the
// backup.
type restoreChangeBody struct {
	Piece  string `json:"piece"`
	Before uint64 `json:"before"`
	After  uint64 `json:"after"`
}

func runStoreRestore(a *frame.App, ctx context.Context, args []string, dry bool) error {
	s, err := stored.Store(a)
	if err != nil {
		return err
	}
	from, err := chosenBackup(s, args)
	if err != nil {
		return err
	}
	plan, err := s.Restore(ctx, from, store.RestoreOptions{DryRun: true})
	if err != nil {
		return err
	}
	if dry {
		return tellRestore(a, plan, true)
	}
	showChanges(a, warnings(a), plan)
	if err := a.Confirm(ctx, "put "+from+" in the place of the store"); err != nil {
		return err
	}
	var o store.RestoreOptions
	if !a.Flags.Yes {
		o.Over = &plan.Seen // what was named in the question, and no more
	}
	var done store.Restored
	err = a.Commit(func() error {
		done, err = s.Restore(ctx, from, o)
		return err
	})
	if err != nil {
		return err
	}
	return tellRestore(a, done, false)
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
func backupPaths(a *frame.App, _ context.Context, _ []string) []string {
	s, err := stored.Store(a)
	if err != nil {
		return nil
	}
	all, _ := s.Backups()
	var paths []string
	for _, b := range all {
		paths = append(paths, b.Path)
	}
	return paths
}

func tellRestore(a *frame.App, r store.Restored, dry bool) error {
	if a.Flags.JSON {
		return a.AnswerJSON(1, restoreBodyOf(r, dry))
	}
	if dry {
		a.Tell("Would put %s in the place of the store. Nothing was changed.", r.From)
		showChanges(a, a.Out, r)
		return nil
	}
	a.Say(fmt.Sprintf("Restored %s from %s.", session.Listed([]string{frame.Counted(r.Contents.Pieces, "piece"), frame.Counted(r.Contents.Events, "event")}, "and"), r.From), "")
	if r.Aside != "" {
		a.Say("The former store is saved as "+r.Aside+".", "")
	}
	a.Say("", "next: strandwise resume")
	return nil
}

func restoreBodyOf(r store.Restored, dry bool) restoreBody {
	body := restoreBody{
		DryRun: dry, From: r.From, Aside: r.Aside, Unreadable: r.Unreadable,
		Pieces: r.Contents.Pieces, Events: r.Contents.Events,
	}
	for _, c := range r.Changes {
		body.Changes = append(body.Changes, restoreChangeBody{nameIn(c.Info, c.UID), c.Before, c.After})
	}
	return body
}

// nameIn is the name of a piece in another file.
func nameIn(info []byte, uid store.UID) string {
	return cmp.Or(stored.InfoName(info), fmt.Sprintf("a piece without a name (%x)", uid))
}

// showChanges says, a piece a line, what a restore drops and what it brings.
func showChanges(a *frame.App, w io.Writer, r store.Restored) {
	if r.Unreadable != "" {
		a.Sentence(w, "The present store cannot be compared: %s.", r.Unreadable)
		a.Sentence(w, "The backup has %s.", session.Listed([]string{frame.Counted(r.Contents.Pieces, "piece"), frame.Counted(r.Contents.Events, "event")}, "and"))
		return
	}
	if len(r.Changes) == 0 {
		a.Sentence(w, "The backup holds the same as the store.")
	}
	for _, c := range r.Changes {
		a.Sentence(w, "%s: %s.", nameIn(c.Info, c.UID), changeWords(c))
	}
}

func changeWords(c store.Change) string {
	switch {
	case !c.There:
		return fmt.Sprintf("would be lost, with %s; the backup does not have it", events(c.Before))
	case !c.Here:
		return fmt.Sprintf("would come back, with %s", events(c.After))
	case c.After < c.Before:
		return fmt.Sprintf("%s here, %d in the backup: %s would be lost", events(c.Before), c.After, events(c.Before-c.After))
	case c.After > c.Before:
		return fmt.Sprintf("%s here, %d in the backup: %s would come back", events(c.Before), c.After, events(c.After-c.Before))
	}
	return fmt.Sprintf("%s in both, but not the same ones", events(c.Before))
}
