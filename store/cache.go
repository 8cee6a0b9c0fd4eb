package store

import (
	"bytes"

	"go.etcd.io/bbolt"
)

// The cache holds what can be worked out again. It stands outside the chain, the
// summary and the export; a value that cannot be read is one that is not there.

// Cache is a cached value; ok is false when there is none that can be trusted. It
// is valid only inside the Tx. A value may be old: it should carry the Mark it was
// made at.
func (tx *Tx) Cache(name []byte) (value []byte, ok bool) {
	b := tx.cache()
	if b == nil {
		return nil, false
	}
	v := b.Get(name)
	n := len(v) - 4
	if n < 0 || sumOf(name, v[:n]) != big.Uint32(v[n:]) {
		return nil, false
	}
	return v[:n:n], true
}

// PutCache keeps a value. In a damaged cache it keeps nothing and adds a warning.
func (tx *Tx) PutCache(name, value []byte) error {
	if err := tx.change(); err != nil {
		return err
	}
	b := tx.cache()
	if b == nil {
		return nil
	}
	tx.badCache(b.Put(name, big.AppendUint32(bytes.Clone(value), sumOf(name, value))))
	return nil
}

// DeleteCache forgets a value; one that is not there is no error.
func (tx *Tx) DeleteCache(name []byte) error {
	if err := tx.change(); err != nil {
		return err
	}
	if b := tx.cache(); b != nil {
		tx.badCache(b.Delete(name))
	}
	return nil
}

// cache is the bucket, nil with a warning when it is damaged.
func (tx *Tx) cache() *bbolt.Bucket {
	if tx.cacheBad {
		return nil
	}
	b, err := tx.bucket(bucketCache)
	if tx.badCache(err) {
		return nil
	}
	return b
}

// badCache gives the cache up for this transaction, with a warning, where there is an
// error.
func (tx *Tx) badCache(err error) bool {
	if err != nil {
		what := "a value of it is damaged"
		if e, ok := err.(*Error); ok {
			what = e.What
		}
		tx.cacheBad = true
		tx.warnings = append(tx.warnings, Warning{Kind: WarnCache, Text: "the cache cannot be used: " + what})
	}
	return err != nil
}
