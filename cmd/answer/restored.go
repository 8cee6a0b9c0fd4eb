package answer

import (
	"cmp"
	"fmt"

	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"

	d "strandwise/cmd/document"
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
