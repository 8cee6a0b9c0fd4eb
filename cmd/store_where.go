package cmd

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

// newStoreWhere is how store alone was asked for once.
func newStoreWhere(a *frame.App) *cobra.Command {
	c := a.Leaf(frame.Spec{
		Use:      "where",
		Short:    "say where the pieces and their backups are: store",
		Long:     "Says where the store is and which backups there are, as strandwise store does.",
		Examples: []string{"strandwise store", "strandwise store --json"},
		JSON:     true,
	}, func(context.Context, []string) error {
		a.Renamed("store where", "store")
		return runStoreWhere(a)
	})
	c.Hidden = true
	return c
}

// whereBody is the answer of `store` in JSON, schema 1. bytes is 0 where
// exists is false; backups come oldest first.
type whereBody struct {
	Path    string         `json:"path"`
	Origin  string         `json:"origin"` // "default", "flag --store", "variable STRANDWISE_STORE"
	Exists  bool           `json:"exists"`
	Bytes   int64          `json:"bytes"`
	Folder  string         `json:"backup_folder"`
	Backups []store.Backup `json:"backups"`
}

func runStoreWhere(a *frame.App) error {
	body, err := findStore(a)
	if err != nil {
		return err
	}
	if a.Flags.JSON {
		return a.AnswerJSON(1, body)
	}
	fmt.Fprintln(a.Out, body.Path)
	a.Tell("Chosen by: %s.", body.Origin)
	if body.Exists {
		a.Tell("Size: %s.", sized(body.Bytes))
	} else {
		a.Tell("Nothing is there yet: strandwise cast-on begins a store.")
	}
	tellBackups(a, body)
	return nil
}

func findStore(a *frame.App) (whereBody, error) {
	s, err := stored.Store(a)
	if err != nil {
		return whereBody{}, err
	}
	origin, err := a.Settings.Get(frame.StoreKey)
	if err != nil {
		return whereBody{}, err
	}
	body := whereBody{Path: s.Path(), Origin: origin.Origin, Folder: s.BackupFolder()}
	info, err := os.Stat(s.Path())
	switch {
	case err == nil:
		body.Exists, body.Bytes = true, info.Size()
	case !errors.Is(err, fs.ErrNotExist):
		return body, frame.Unusable("%s cannot be looked at: %v", s.Path(), frame.Reason(err)).Because(err).
			Hint("--store PATH, or set STRANDWISE_STORE, to point elsewhere")
	}
	body.Backups, err = s.Backups()
	return body, err
}

// backupReasons says each reason for a backup in words.
var backupReasons = map[store.Reason]string{
	store.ReasonDaily:  "after the first step of the day",
	store.ReasonAsked:  "asked for",
	store.ReasonImport: "before an import",
	store.ReasonRaise:  "before a newer version changed the store",
}

// tellBackups prints a line for each backup, its name ready to be copied.
func tellBackups(a *frame.App, body whereBody) {
	if len(body.Backups) == 0 {
		a.Tell("No backup yet; they will be in %s.", body.Folder)
		return
	}
	a.Tell("%s, the newest last:", frame.Counted(len(body.Backups), "backup"))
	for _, b := range body.Backups {
		why := cmp.Or(backupReasons[b.Reason], string(b.Reason))
		a.Tell("%s, %s, %s:", toTheMinute(b.Made), why, sized(b.Bytes))
		fmt.Fprintln(a.Out, b.Path)
	}
}
