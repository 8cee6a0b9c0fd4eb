package store

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"sync/atomic"
)

// Contents counts what a store holds.
type Contents struct {
	Counts
	Schema int   `json:"store_schema"`
	Pages  int   `json:"pages"` // of 4096 bytes, the free ones among them
	Free   int   `json:"free_pages"`
	Bytes  int64 `json:"bytes"` // length of the file
}

// Report is what Check found.
type Report struct {
	Contents Contents
	Problems []*Error // empty for a sound store
	Warnings []Warning
	Held     Parcel // all it holds; nothing where an opening would be refused
}

func (s *Store) sound(ctx context.Context) (Contents, error) {
	r, err := s.Check(ctx)
	if err == nil && len(r.Problems) > 0 {
		r.Problems[0].Path = s.path
		err = r.Problems[0]
	}
	return r.Contents, err
}

// Check reads the whole store and holds every part against what vouches for it: pages against the
// tree and the free list, events against their chain, charts against their hashes, all against the
// summary. Damage is in the report; the error is for a store that cannot be read at all, or is none.
func (s *Store) Check(ctx context.Context) (Report, error) {
	var done atomic.Pointer[Report] // left empty when the reading was given up
	err := s.transact(ctx, verifyLimit, false, func(tx *Tx) error {
		r := &Report{}
		defer done.Store(r)
		return r.read(tx)
	})
	r := cmp.Or(done.Load(), &Report{})
	if ClassOf(err) == ClassDamaged {
		r.note(err)
		err = nil
	}
	return *r, err
}

// read verifies one state. A store of an older schema is verified as to its pages.
func (r *Report) read(tx *Tx) error {
	in := tx.file.headers
	r.Contents.Pages, r.Contents.Free, r.Contents.Bytes = int(in.Pages), len(in.freed), in.bytes
	r.note(tx.wholly())
	err := tx.beginHeads()
	r.Contents.Schema, r.Warnings = tx.schema, tx.warnings
	if ClassOf(err) == classOlder {
		return tx.survey.first()
	}
	if err != nil {
		return err
	}
	held := tx.gather(r.note)
	r.Contents.Counts = held.counts()
	if tx.begin() == nil {
		r.Held = *held
	}
	heads := tx.btx.Bucket(bucketHeads)
	r.note(origin(tx))
	r.note(tx.each(bucketPieces, "there is a piece that is not listed", func(k, _ []byte) bool { return heads.Get(k) != nil }))
	r.note(tx.each(bucketCache, "a cached value does not match its checksum; it is not used", func(k, v []byte) bool {
		_, sound := unseal(k, v)
		return sound
	}))
	return tx.survey.first()
}

func (r *Report) note(err error) {
	if err == nil {
		return
	}
	p := &Error{Class: ClassDamaged, What: err.Error()}
	if e, is := errors.AsType[*Error](err); is {
		p.Piece, p.Seq, p.What = e.Piece, e.Seq, e.What
	}
	same := func(q *Error) bool { return q.What == p.What && (p.Piece == 0 || q.Piece == p.Piece) }
	if !slices.ContainsFunc(r.Problems, same) {
		r.Problems = append(r.Problems, p)
	}
}

func origin(tx *Tx) error {
	for _, k := range [][]byte{metaID, metaCreated, metaWriter} {
		if _, ok := unseal(k, tx.btx.Bucket(bucketMeta).Get(k)); !ok {
			return damaged("what is known of the store's making does not match its checksum")
		}
	}
	return nil
}

// each holds every entry of a top bucket against a rule, and says otherwise what is wrong.
func (tx *Tx) each(name []byte, otherwise string, holds func(k, v []byte) bool) error {
	b, err := tx.bucket(name)
	if err != nil {
		return err
	}
	return b.ForEach(func(k, v []byte) error {
		if !holds(k, v) {
			return damaged("%s (%x)", otherwise, k)
		}
		return nil
	})
}
