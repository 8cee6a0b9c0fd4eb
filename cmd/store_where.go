package cmd

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"

	"github.com/spf13/cobra"

	"strandwise/store"
)

func newStoreWhere(a *app) *cobra.Command {
	return a.leaf(spec{
		use:   "where",
		short: "say where the pieces and their backups are",
		long: "Says where the store is and what made it so, how large it is, and which backups there are, the oldest first.\n\n" +
			"It opens nothing and changes nothing.",
		examples: []string{
			"strandwise store where",
			"strandwise store where --json",
		},
		json: true,
	}, func(context.Context, []string) error { return runStoreWhere(a) })
}

// whereBody is the answer of `store where` in JSON, schema 1. bytes is 0 where
// exists is false; backups come oldest first.
type whereBody struct {
	Path    string       `json:"path"`
	Origin  string       `json:"origin"` // "default", "flag --store", "variable STRANDWISE_STORE"
	Exists  bool         `json:"exists"`
	Bytes   int64        `json:"bytes"`
	Folder  string       `json:"backup_folder"`
	Backups []backupBody `json:"backups"`
}

// backupBody is one backup in JSON. reason is daily, asked, import or raise.
type backupBody struct {
	Path   string    `json:"path"`
	Made   time.Time `json:"made"`
	Reason string    `json:"reason"`
	Bytes  int64     `json:"bytes"`
}

func bodyOfBackup(b store.Backup) backupBody {
	return backupBody{b.Path, b.Made, string(b.Reason), b.Bytes}
}

func runStoreWhere(a *app) error {
	body, err := a.findStore()
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.answerJSON(1, body)
	}
	fmt.Fprintln(a.out, body.Path)
	a.prose("Chosen by: %s.", body.Origin)
	if body.Exists {
		a.prose("Size: %s.", sized(body.Bytes))
	} else {
		a.prose("Nothing is there yet: strandwise cast-on begins a store.")
	}
	a.tellBackups(body)
	return nil
}

func (a *app) findStore() (whereBody, error) {
	s, err := a.openStore()
	if err != nil {
		return whereBody{}, err
	}
	origin, err := a.settings.get(storeKey)
	if err != nil {
		return whereBody{}, err
	}
	body := whereBody{Path: s.Path(), Origin: origin.origin, Folder: s.BackupFolder()}
	info, err := os.Stat(s.Path())
	switch {
	case err == nil:
		body.Exists, body.Bytes = true, info.Size()
	case !errors.Is(err, fs.ErrNotExist):
		return body, unusable("%s cannot be looked at: %v", s.Path(), reason(err)).because(err).
			hint("--store PATH, or set STRANDWISE_STORE, to point elsewhere")
	}
	backups, err := s.Backups()
	for _, b := range backups {
		body.Backups = append(body.Backups, bodyOfBackup(b))
	}
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
func (a *app) tellBackups(body whereBody) {
	if len(body.Backups) == 0 {
		a.prose("No backup yet; they will be in %s.", body.Folder)
		return
	}
	a.prose("%s, the newest last:", counted(len(body.Backups), "backup"))
	for _, b := range body.Backups {
		why, known := backupReasons[store.Reason(b.Reason)]
		if !known {
			why = b.Reason
		}
		a.prose("%s, %s, %s:", toTheMinute(b.Made), why, sized(b.Bytes))
		fmt.Fprintln(a.out, b.Path)
	}
}
