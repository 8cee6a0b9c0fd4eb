package stored

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"

	"strandwise/cmd/frame"
	"strandwise/session"
	"strandwise/store"
)

// A piece keeps its own copy of every chart. Where a chart was read from is kept in
// the cache only, which neither goes with an export nor decides anything: it lets
// `resume` tell that the file is not what it was.

// FileKey names in the cache the file a chart was read from.
func FileKey(hash [32]byte) []byte { return []byte("file of " + hex.EncodeToString(hash[:])) }

// keepFile knows that neither standard input nor the program is a place to look at again.
func keepFile(tx *store.Tx, part Part) error {
	if part.Title == "" || part.Title == frame.StdinTitle || frame.IsExample(part.Title) {
		return nil
	}
	path, err := filepath.Abs(part.Title)
	if err != nil {
		return nil // the folder of this run is gone: there is nothing to tell later
	}
	return tx.PutCache(FileKey(part.Ref.Hash), []byte(path))
}

// TakeUp is Take after a break: it notes which chart files are gone or changed since they were read.
func TakeUp(a *frame.App) (*Piece, error) {
	var files []string // of the parts
	p, err := takeAnd(a, func(tx *store.Tx, p *Piece) error {
		for _, part := range session.AllBlocks(p.Layout.Parts) {
			path, _ := tx.Cache(FileKey(part.Hash))
			files = append(files, string(path))
		}
		return nil
	})
	for i, path := range files {
		if err != nil || path == "" || slices.Contains(files[:i], path) {
			continue
		}
		if what := sinceRead(path, session.AllBlocks(p.Layout.Parts)[i].Hash); what != "" {
			fmt.Fprintf(a.Err, "strandwise: note: %s %s; %s goes on with the chart as it was\n", frame.PlainText([]byte(path)), what, p.State.Setup.Name)
		}
	}
	return p, err
}

// sinceRead says what became of a chart file, "" when nothing did or nobody can tell.
func sinceRead(path string, hash [32]byte) string {
	data, err := frame.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "is no longer there"
	case err != nil || sha256.Sum256(data) == hash:
		return ""
	}
	return "has changed since it was read"
}
