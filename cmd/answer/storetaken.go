package answer

import (
	"cmp"
	"fmt"

	d "strandwise/cmd/document"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

// Restored is the answer of store restore, schema 1. aside is "" in a dry
// run and where there was no store; unreadable says why the former store could not
// be compared, else "". changes leaves out the pieces that stay as they are.
type Restored struct {
	DryRun     bool            `json:"dry_run"`
	From       string          `json:"from"`
	Aside      string          `json:"aside"`
	Unreadable string          `json:"unreadable"`
	Pieces     int             `json:"pieces"`
	Events     int             `json:"events"`
	Changes    []RestoreChange `json:"changes"`
}

// RestoreChange is how a piece differs: the events it has in the store and in the
// backup.
type RestoreChange struct {
	Piece string `json:"piece"`
	store.Change
}

// NewRestored makes the answer of a restore, or of what one would do.
func NewRestored(r store.Restored, dry bool) *Restored {
	return &Restored{dry, r.From, r.Aside, r.Unreadable, r.Contents.Pieces, r.Contents.Events, mapped(r.Changes, func(c store.Change) RestoreChange {
		return RestoreChange{nameIn(c.Info, c.UID), c}
	})}
}

func nameIn(info []byte, uid store.UID) string {
	return cmp.Or(stored.InfoName(info), fmt.Sprintf("a piece without a name (%x)", uid))
}

// Document tells what was put in the place of the store, or what would be.
func (a *Restored) Document() d.Document {
	p := &prose{}
	if a.DryRun {
		p.item("Would put %s in the place of the store. Nothing was changed.", a.From)
		p.add(a.Warning().Blocks...)
		return p.document()
	}
	p.act("Restored %s from %s.", a.held(), a.From)
	if a.Aside != "" {
		p.act("The former store is saved as %s.", a.Aside)
	}
	p.next("next: strandwise resume")
	return p.document()
}

func (a *Restored) held() string {
	return session.Listed([]string{d.Counted(a.Pieces, "piece"), d.Counted(a.Events, "event")}, "and")
}

// Warning tells, a piece a line, what a restore drops and what it brings.
func (a *Restored) Warning() d.Document {
	p := &prose{}
	switch {
	case a.Unreadable != "":
		p.item("The present store cannot be compared: %s.", a.Unreadable)
		p.item("The backup has %s.", a.held())
		return p.document()
	case len(a.Changes) == 0:
		p.item("The backup holds the same as the store.")
	}
	for _, c := range a.Changes {
		p.named(c.Piece, ": %s.", c.words())
	}
	return p.document()
}

func (c RestoreChange) words() string {
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

// Imported is the answer of store import, schema 1. backup is "" where
// none was needed or none could be made; kept_settings are those that stay as they
// are here though the file says otherwise.
type Imported struct {
	DryRun       bool            `json:"dry_run"`
	File         store.Counts    `json:"file"`
	Charts       int             `json:"charts"` // new ones
	Settings     int             `json:"settings"`
	KeptSettings []string        `json:"kept_settings"`
	Pieces       []ImportedPiece `json:"pieces"`
	Backup       string          `json:"backup"`

	changes bool // there is anything to do
}

// ImportedPiece is one piece of the file. fate is new, same (all of it was here),
// longer (the file went on from here), shorter (here it went on from the file) or apart
// (in conflict, taken in as a piece of its own); name is the one it has here now.
type ImportedPiece struct {
	Piece string `json:"piece"`
	Name  string `json:"name"`
	store.ImportedPiece
}

// NewImported makes the answer; names are those of pieces that were given another.
func NewImported(r store.Imported, names map[store.PieceID]string, dry bool) *Imported {
	pieces := mapped(r.Pieces, func(p store.ImportedPiece) ImportedPiece {
		name := nameIn(p.Info, p.UID)
		return ImportedPiece{name, cmp.Or(names[p.ID], name), p}
	})
	return &Imported{dry, r.File, r.Charts, r.Settings, r.Kept, pieces, r.Backup, r.Changes()}
}

// Document tells what came in, or what would.
func (a *Imported) Document() d.Document {
	p := &prose{}
	if a.DryRun {
		p.item("The file holds %s. Nothing was written.", contentWords(a.File))
	}
	if !a.changes {
		p.item("All of it is already there: nothing to do.")
		return p.document()
	}
	p.add(a.Warning().Blocks...)
	if !a.DryRun {
		p.next("next: strandwise pieces")
	}
	return p.document()
}

// Warning tells, a piece a line, what comes in.
func (a *Imported) Warning() d.Document {
	p := &prose{}
	for _, piece := range a.Pieces {
		p.add(d.Act(d.Named(piece.Piece, ": "+piece.words()+".")))
	}
	if a.Charts > 0 || a.Settings > 0 {
		p.act("New besides: %s and %s.", d.Counted(a.Charts, "chart"), d.Counted(a.Settings, "setting"))
	}
	for _, key := range a.KeptSettings {
		p.act("Setting %s stays as it is here.", key)
	}
	return p.document()
}

func (a ImportedPiece) words() string {
	switch a.Fate {
	case store.FateNew:
		return "new, with " + events(a.Added)
	case store.FateLonger:
		return fmt.Sprintf("%s more than here", events(a.Added))
	case store.FateShorter:
		return "all of it is here already, and more"
	case store.FateApart:
		as := "under a name of its own"
		if a.Name != a.Piece {
			as = "as " + a.Name
		}
		return fmt.Sprintf("went on differently from event %d on; kept apart %s, with %s", a.At, as, events(a.Added))
	}
	return "already there"
}

// Salvaged is the answer of store salvage, schema 1. sure is false
// where the store could no longer tell which pieces it has: a removed one may be
// back.
type Salvaged struct {
	To       string           `json:"to"`
	Sources  []string         `json:"sources"` // files read, the store first
	Sure     bool             `json:"sure"`
	Charts   int              `json:"charts"`
	Settings int              `json:"settings"`
	Pieces   []stored.Rescued `json:"pieces"`
}

// Document tells what is in the new file and what is not.
func (a *Salvaged) Document() d.Document {
	p, taken, waits := &prose{}, 0, false
	for _, piece := range a.Pieces {
		waits = waits || len(piece.Waits) > 0
		if !piece.Behind() {
			taken++
		}
	}
	p.item("Read %s; wrote %s.", d.Counted(len(a.Sources), "file"), a.To)
	p.item("%s, %s and %s.", d.Counted(taken, "piece"), d.Counted(a.Charts, "chart"), d.Counted(a.Settings, "setting"))
	for _, piece := range a.Pieces {
		rescued(p, piece)
	}
	switch {
	case waits:
		p.next("next, with the chart at hand: strandwise store salvage ANOTHER-FILE --chart CHART-FILE")
		return p.document()
	case !a.Sure:
		p.item("The store could no longer tell which pieces it has: one you removed may be back.")
	}
	p.next("next: strandwise store restore %s", a.To)
	return p.document()
}

func rescued(p *prose, piece stored.Rescued) {
	line := events(piece.Events)
	if piece.FromBackup > 0 {
		line += fmt.Sprintf(", %d of them from backups", piece.FromBackup)
	}
	p.named(piece.Name, ": %s.", line)
	for _, g := range piece.Gaps {
		p.named(piece.Name, ": %s lost.", stored.GapWords(g))
	}
	if piece.Assumed > 0 {
		p.named(piece.Name, ": %s logged as knitted without the program.", d.Counted(piece.Assumed, "lost row"))
	}
	switch {
	case piece.Cut && piece.Last == 0:
		p.named(piece.Name, ": its beginning is lost, so it could not be taken over; its events are still in the damaged file.")
	case piece.Cut:
		p.named(piece.Name, ": what comes after event %d does not join on and stayed behind. It is now at row %d; strandwise knit --to N catches up.", piece.Last, piece.Row+1)
	}
	for _, w := range piece.Waits {
		p.named(piece.Name, " stayed behind: the chart of its part %s is lost; it was read from %s, and its SHA-256 begins with %s.",
			w.Part, cmp.Or(w.File, "nobody can tell which file"), w.SHA256[:8])
	}
}
