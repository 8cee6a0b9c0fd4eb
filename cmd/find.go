package cmd

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"

	"strandwise/store"
)

// listedPiece is a piece as the store's list has it.
type listedPiece struct {
	id store.PieceID
	pieceInfo
}

// listPieces reads what is kept beside every piece, oldest first.
func listPieces(tx *store.Tx) ([]listedPiece, error) {
	ids, err := tx.Pieces()
	if err != nil {
		return nil, err
	}
	var pieces []listedPiece
	for _, id := range ids {
		info, err := tx.Info(id)
		if err != nil {
			return nil, err
		}
		p := listedPiece{id: id}
		if err := json.Unmarshal(info, &p.pieceInfo); err != nil {
			continue // salvaged without its info: store check names it
		}
		pieces = append(pieces, p)
	}
	return pieces, nil
}

// pieceNamed finds a piece by how its info begins, without reading the rest of it:
// there may be a thousand others.
func pieceNamed(tx *store.Tx, name string) (id store.PieceID, found bool, err error) {
	inQuotes, err := quoted(name)
	if err != nil {
		return 0, false, err
	}
	start := fmt.Appendf(nil, `{"name":%s,`, inQuotes)
	if id, ok := hinted(tx, name); ok {
		if info, err := tx.Info(id); err == nil && bytes.HasPrefix(info, start) {
			return id, true, nil
		}
	}
	ids, err := tx.Pieces()
	if err != nil {
		return 0, false, err
	}
	for _, id := range ids {
		info, err := tx.Info(id)
		if err != nil {
			return 0, false, err
		}
		if bytes.HasPrefix(info, start) {
			return id, true, nil
		}
	}
	return 0, false, nil
}

// hintName names the hint in the cache on which number a piece has. A hint may be old:
// the piece's info decides.
func hintName(name string) []byte { return []byte("number of " + name) }

func hinted(tx *store.Tx, name string) (store.PieceID, bool) {
	kept, ok := tx.Cache(hintName(name))
	if !ok || len(kept) != 8 {
		return 0, false
	}
	return store.PieceID(binary.BigEndian.Uint64(kept)), true
}

// hint keeps the number of a piece, so that the next step need not look for it.
func hint(tx *store.Tx, name string, id store.PieceID) error {
	if kept, ok := hinted(tx, name); ok && kept == id {
		return nil
	}
	return tx.PutCache(hintName(name), binary.BigEndian.AppendUint64(nil, uint64(id)))
}

// findPiece finds a piece by name; without a name the only one there is.
func findPiece(tx *store.Tx, name string) (store.PieceID, error) {
	if id, found, err := pieceNamed(tx, name); err != nil || found {
		return id, err
	}
	pieces, err := listPieces(tx)
	if err != nil {
		return 0, err
	}
	var names []string
	for _, p := range pieces {
		if p.Name == name {
			return p.id, nil
		}
		names = append(names, p.Name)
	}
	switch {
	case len(pieces) == 0:
		return 0, refused("no piece is cast on yet").hint("%s", beginning[0]).hint("%s", beginning[1])
	case name == "" && len(pieces) == 1:
		return pieces[0].id, nil
	case name == "":
		return 0, refused("there are %d pieces and none is chosen", len(pieces)).hint("strandwise pieces switch %s", inShell(names[len(names)-1]))
	}
	return 0, &noPieceNamed{name, nearest(name, names)}
}

// noPieceNamed tells that there is no piece of a name; near is one that was perhaps
// meant, or empty.
type noPieceNamed struct{ name, near string }

func (e *noPieceNamed) Error() string { return "there is no piece named " + e.name }

// hintFor names the nearest piece as the command takes it, a form with %s for the name.
func (e *noPieceNamed) hintFor(form string) string {
	if e.near == "" {
		return "strandwise pieces, which lists them"
	}
	return fmt.Sprintf(form, inShell(e.near))
}

// asArgument tells of a piece that is not there as a command takes its name: in form, %s
// stands for it.
func asArgument(err error, form string) error {
	if e := (*noPieceNamed)(nil); errors.As(err, &e) {
		return refused("%v", e).hint("%s", e.hintFor(form)).because(err)
	}
	return err
}
