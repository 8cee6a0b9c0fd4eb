package store

import "go.etcd.io/bbolt"

// The cache holds what can be worked out again. It stands outside the chain, the
// summary and the export; a value that cannot be read is one that is not there.

// Cache is a cached value; ok is false when there is none that can be trusted. It is valid only
// inside the Tx. A value may be old: it should carry the Mark it was made at.
func (tx *Tx) Cache(name []byte) (value []byte, ok bool) {
	tx.cached(func(b *bbolt.Bucket) error {
		value, ok = unseal(name, b.Get(name))
		return nil
	})
	return value, ok
}

// PutCache keeps a value. In a damaged cache it keeps nothing and adds a warning.
func (tx *Tx) PutCache(name, value []byte) error {
	return tx.changeCache(func(b *bbolt.Bucket) error { return b.Put(name, seal(name, value)) })
}

// DeleteCache forgets a value; one that is not there is no error.
func (tx *Tx) DeleteCache(name []byte) error {
	return tx.changeCache(func(b *bbolt.Bucket) error { return b.Delete(name) })
}

func (tx *Tx) changeCache(fn func(*bbolt.Bucket) error) error {
	if err := tx.change(); err != nil {
		return err
	}
	tx.cached(fn)
	return nil
}

// cached works on the cache. Where it is damaged it is given up for this transaction, with
// a warning.
func (tx *Tx) cached(fn func(*bbolt.Bucket) error) {
	if tx.cacheBad {
		return
	}
	b, err := tx.bucket(bucketCache)
	if err == nil {
		err = fn(b)
	}
	if err == nil {
		return
	}
	what := "a value of it is damaged"
	if e, ok := err.(*Error); ok {
		what = e.What
	}
	tx.cacheBad = true
	tx.warnings = append(tx.warnings, Warning{Text: "the cache cannot be used: " + what})
}
