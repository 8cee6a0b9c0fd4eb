package cmd

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"strandwise/store"
)

// A piece keeps its own copy of every chart. Where a chart was read from is kept in
// the cache only, which neither goes with an export nor decides anything: it lets
// `resume` tell that the file is not what it was.

// fileName names in the cache the file a chart was read from.
func fileName(hash [32]byte) []byte { return []byte("file of " + hex.EncodeToString(hash[:])) }

// keepFile keeps where a chart was read from; standard input is no such place.
func keepFile(tx *store.Tx, part partRead) error {
	if part.title == "" || part.title == stdinTitle {
		return nil
	}
	path, err := filepath.Abs(part.title)
	if err != nil {
		return nil // the folder of this run is gone: there is nothing to tell later
	}
	return tx.PutCache(fileName(part.ref.Hash), []byte(path))
}

// noteChartFiles says which chart files of a piece are gone or changed since they
// were read.
func (a *app) noteChartFiles(ctx context.Context, p *storedPiece) {
	told := map[string]bool{}
	a.glance(ctx, func(tx *store.Tx) error {
		for _, part := range p.Layout.Parts {
			path, known := tx.Cache(fileName(part.Hash))
			if part.IsPlain() || !known || told[string(path)] {
				continue
			}
			told[string(path)] = true
			if what := sinceRead(string(path), part.Hash); what != "" {
				fmt.Fprintf(a.err, "strandwise: note: %s %s; %s goes on with the chart as it was\n", plainText(path), what, p.State.Setup.Name)
			}
		}
		return nil
	})
}

// sinceRead says what became of a chart file, "" when nothing did or nobody can
// tell.
func sinceRead(path string, hash [32]byte) string {
	data, err := readFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "is no longer there"
	case err != nil || sha256.Sum256(data) == hash:
		return ""
	}
	return "has changed since it was read"
}
