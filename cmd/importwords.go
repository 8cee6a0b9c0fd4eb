package cmd

import (
	"fmt"
	"io"

	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

// showImport says, a piece a line, what comes in.
func showImport(a *frame.App, w io.Writer, r store.Imported, names map[store.PieceID]string) {
	for _, p := range r.Pieces {
		a.Sentence(w, "%s: %s.", importedName(p), importWords(p, names))
	}
	if r.Charts > 0 || r.Settings > 0 {
		a.Sentence(w, "New besides: %s and %s.", frame.Counted(r.Charts, "chart"), frame.Counted(r.Settings, "setting"))
	}
	for _, key := range r.Kept {
		a.Sentence(w, "Setting %s stays as it is here.", key)
	}
}

func importWords(p store.ImportedPiece, names map[store.PieceID]string) string {
	switch p.Fate {
	case store.FateNew:
		return "new, with " + events(p.Added)
	case store.FateLonger:
		return fmt.Sprintf("%s more than here", events(p.Added))
	case store.FateShorter:
		return "all of it is here already, and more"
	case store.FateApart:
		as := "kept apart under a name of its own"
		if name, ok := names[p.ID]; ok {
			as = "kept apart as " + name
		}
		return fmt.Sprintf("went on differently from event %d on; %s, with %s", p.At, as, events(p.Added))
	}
	return "already there"
}

// renameApart gives pieces that were taken in beside their like a name of their own,
// as an event of their log.
func renameApart(a *frame.App, tx *store.Tx, done store.Imported) (map[store.PieceID]string, error) {
	names := map[store.PieceID]string{}
	for _, p := range done.Pieces {
		if p.Fate != store.FateApart {
			continue
		}
		name, err := renameOne(a, tx, p.ID)
		if err != nil {
			return nil, err
		}
		names[p.ID] = name
	}
	return names, nil
}

func renameOne(a *frame.App, tx *store.Tx, id store.PieceID) (string, error) {
	records, err := stored.ReadLog(tx, id)
	if err != nil {
		return "", err
	}
	state, err := session.Fold(records)
	if err != nil {
		return "", err
	}
	here, err := stored.List(tx)
	if err != nil {
		return "", err
	}
	name := freeName(here, state.Setup.Name)
	p := &stored.Piece{Piece: &session.Piece{State: state}, ID: id}
	return name, stored.Log(a, tx, p, []session.Event{&session.Renamed{Name: name}})
}

// freeName is the name followed by the lowest number from 2 that makes it one no
// piece has.
func freeName(here []stored.Listed, name string) string {
	for n := 2; ; n++ {
		if other := fmt.Sprintf("%s %d", name, n); !stored.NameTaken(here, other) {
			return other
		}
	}
}
