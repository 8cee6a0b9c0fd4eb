package answer

import (
	"cmp"
	"fmt"

	"strandwise/store"

	d "strandwise/cmd/document"
)

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
