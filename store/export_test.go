package store

import (
	"bytes"
	"context"
	"fmt"
	"hash/crc32"
	"io"
	"slices"

	"go.etcd.io/bbolt"
)

// Parse lets the tests feed the reader of exports.
func Parse(r io.Reader) error {
	text, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	_, err = ReadParcel(text, "fuzz")
	return err
}

// SealLines gives every line of a text the end and the checksum an export has.
func SealLines(text []byte) []byte {
	var sealed []byte
	for line := range bytes.SplitSeq(text, []byte("\n")) {
		sealed = append(sealed, line...)
		sealed = fmt.Appendf(sealed, ",\"crc\":\"%08x\"}\n", crc32.Checksum(line, crc32.MakeTable(crc32.Castagnoli)))
	}
	return sealed
}

// Harvest lets the tests feed the reader of damaged files.
func Harvest(data []byte) { newHarvest().read(bytes.Clone(data)) }

// Origin lets the tests ask where and when a store was made.
func (tx *Tx) Origin() (writer, created string, err error) {
	meta := tx.btx.Bucket(bucketMeta)
	by, _ := unseal(metaWriter, meta.Get(metaWriter))
	at, _ := unseal(metaCreated, meta.Get(metaCreated))
	return string(by), string(at), origin(tx)
}

// Settings lets the tests list the names of all settings in order.
func (tx *Tx) Settings() (names []string) {
	for _, s := range tx.settings() {
		names = append(names, s.Name)
	}
	return names
}

// Keep lets the tests ask which backups are kept.
func Keep(all []Backup) map[string]bool { return keep(all) }

// WithInventedRaise is the store with a step from schema 0, which was never
// released: schema 1 without heads and summary.
func WithInventedRaise(s *Store) *Store {
	s.raises = map[int]func(*bbolt.Tx) error{0: raiseInvented}
	return s
}

// raiseInvented makes the heads from the logs.
func raiseInvented(btx *bbolt.Tx) error {
	heads, err := btx.CreateBucket(bucketHeads)
	if err != nil {
		return err
	}
	return btx.Bucket(bucketPieces).ForEach(func(k, _ []byte) error {
		b := btx.Bucket(bucketPieces).Bucket(k)
		_, uid, ok := decodeInfo(b.Get(keyInfo))
		if !ok {
			return damaged("an info is bad")
		}
		h := pieceHead{Format: valueFormat, UID: uid, Info: crcOf(b.Get(keyInfo))}
		if k, v := b.Bucket(keyLog).Cursor().Last(); k != nil {
			e, ok := decodeEvent(k, v)
			if !ok {
				return damaged("an event is bad")
			}
			h.Tail = e.Mark()
		}
		return heads.Put(k, encode(k, h, nil))
	})
}

// Lower turns a store file into one of schema 0.
func Lower(path string) error {
	return edit(path, func(btx *bbolt.Tx) error {
		if err := btx.DeleteBucket(bucketHeads); err != nil {
			return err
		}
		if err := btx.Bucket(bucketMeta).Delete(metaSummary); err != nil {
			return err
		}
		return btx.Bucket(bucketMeta).Put(metaSchema, seal(metaSchema, []byte("0")))
	})
}

// SetSchema makes a store file claim a schema.
func SetSchema(path, number string) error {
	return edit(path, func(btx *bbolt.Tx) error {
		return btx.Bucket(bucketMeta).Put(metaSchema, seal(metaSchema, []byte(number)))
	})
}

// edit changes a store file behind the store's back.
func edit(path string, fn func(*bbolt.Tx) error) error {
	db, err := bbolt.Open(path, 0o600, nil)
	if err != nil {
		return err
	}
	err = db.Update(fn)
	if closed := db.Close(); err == nil {
		err = closed
	}
	return err
}

// Warnings are what the caller should show though the work went on: the last
// commit may be gone because one of the file's two headers is bad.
func (tx *Tx) Warnings() []Warning { return slices.Clone(tx.warnings) }

// UID lets the tests ask for the identity of a piece.
func (tx *Tx) UID(id PieceID) (UID, error) {
	h, err := tx.head(id)
	return h.UID, err
}

// PieceOf lets the tests find a piece by its identity.
func (tx *Tx) PieceOf(uid UID) (PieceID, error) { return tx.pieceOf(uid) }

// Create lets the tests make an empty store.
func (s *Store) Create(ctx context.Context) error {
	return s.CreateWith(ctx, func(*Tx) error { return nil })
}
