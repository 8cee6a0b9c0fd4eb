package answer

import (
	"cmp"
	"fmt"

	d "strandwise/cmd/document"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

// Store is the answer of store, schema 1. bytes is 0 where
// exists is false; backups come oldest first.
type Store struct {
	Path    string         `json:"path"`
	Origin  string         `json:"origin"` // "default", "flag --store", "variable STRANDWISE_STORE"
	Exists  bool           `json:"exists"`
	Bytes   int64          `json:"bytes"`
	Folder  string         `json:"backup_folder"`
	Backups []store.Backup `json:"backups"`
}

var backupReasons = map[store.Reason]string{
	store.ReasonDaily:  "after the first step of the day",
	store.ReasonAsked:  "asked for",
	store.ReasonImport: "before an import",
	store.ReasonRaise:  "before a newer version changed the store",
}

// Document tells the store and its backups, every path on a line of its own, to be copied.
func (a *Store) Document() d.Document {
	p := &prose{}
	p.add(d.Line{Text: d.Verbatim(a.Path)})
	p.item("Chosen by: %s.", a.Origin)
	if a.Exists {
		p.item("Size: %s.", sized(a.Bytes))
	} else {
		p.item("Nothing is there yet: strandwise cast-on begins a store.")
	}
	if len(a.Backups) == 0 {
		p.item("No backup yet; they will be in %s.", a.Folder)
		return p.document()
	}
	p.item("%s, the newest last:", d.Counted(len(a.Backups), "backup"))
	for _, b := range a.Backups {
		p.item("%s, %s, %s:", d.DayTime(b.Made), cmp.Or(backupReasons[b.Reason], string(b.Reason)), sized(b.Bytes))
		p.add(d.Line{Text: d.Verbatim(b.Path)})
	}
	return p.document()
}

// BackedUp is the answer of store backup, schema 1. copy is "" where
// none was asked for; kept is how many backups there are now.
type BackedUp struct {
	store.Backup
	Copy string `json:"copy"`
	Kept int    `json:"kept"`
}

// Document tells where the backup is.
func (a *BackedUp) Document() d.Document {
	p := &prose{}
	p.act("Backed up %s to %s; %s now.", sized(a.Bytes), a.Path, d.Counted(a.Kept, "backup"))
	if a.Copy != "" {
		p.act("Copied to %s.", a.Copy)
	}
	return p.document()
}

// Exported is the answer of store export, schema 1.
type Exported struct {
	To string `json:"to"`
	store.Counts
}

// Document tells what was written, and how it is read in.
func (a *Exported) Document() d.Document {
	p := &prose{}
	p.act("Wrote %s to %s.", contentWords(a.Counts), a.To)
	p.next("next, on the other computer: strandwise store import %s", a.To)
	return p.document()
}

// sized rounds to the nearest in the unit that fits, halves up.
func sized(bytes int64) string {
	units, unit := []string{"bytes", "KiB", "MiB", "GiB"}, 0
	for ; bytes >= 1024 && unit < len(units)-1; unit++ {
		bytes = (bytes + 512) / 1024
	}
	return fmt.Sprintf("%d %s", bytes, units[unit])
}

func contentWords(c store.Counts) string {
	return session.Listed([]string{
		d.Counted(c.Pieces, "piece"), d.Counted(c.Events, "event"), d.Counted(c.Charts, "chart"), d.Counted(c.Settings, "setting"),
	}, "and")
}

func events(n uint64) string { return d.Counted(int(n), "event") }

// StoreCheck is the answer of store check, schema 1. It is the answer of a
// damaged store too, with sound false and status 6.
type StoreCheck struct {
	Path  string `json:"path"`
	Sound bool   `json:"sound"`
	store.Contents
	Problems []stored.Finding `json:"problems"`
	Notes    []stored.Finding `json:"notes"`
	Warnings []string         `json:"warnings"`
}

// Document tells of a sound store; the problems of another are its fault's.
func (a *StoreCheck) Document() d.Document {
	p := &prose{}
	p.named(a.Path, " is sound: %s in %s.", contentWords(a.Counts), sized(a.Bytes))
	p.item("Every checksum held, and every piece was worked through again from its first event.")
	for _, n := range a.Notes {
		p.item("Note: %s.", n)
	}
	return p.document()
}
