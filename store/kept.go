package store

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"unicode/utf8"

	"go.etcd.io/bbolt"
	bbolterrors "go.etcd.io/bbolt/errors"
)

// What a store keeps beside its pieces: charts, settings, and a cache.

// Hash is the SHA-256 of a chart's bytes, by which a piece names it.
type Hash [32]byte

// PutChart keeps a chart's bytes as they were read; the same bytes are kept once.
func (tx *Tx) PutChart(chart []byte) (Hash, error) {
	hash, b := Hash(sha256.Sum256(chart)), tx.btx.Bucket(bucketCharts)
	if old := b.Get(hash[:]); old != nil {
		return hash, soundChart(hash, old)
	}
	return hash, tx.put(b, hash[:], chart)
}

// RemoveChart takes out a chart, if it is there. That no log names it is its caller's affair.
func (tx *Tx) RemoveChart(hash Hash) error {
	return tx.remove(tx.btx.Bucket(bucketCharts), hash[:])
}

// Chart is a chart as it was read. As a hash comes from the store, one that is not there is damage.
func (tx *Tx) Chart(hash Hash) ([]byte, error) {
	return theChart(hash, bytes.Clone(tx.btx.Bucket(bucketCharts).Get(hash[:])))
}

func theChart(hash Hash, chart []byte) ([]byte, error) {
	if chart == nil {
		return nil, damaged("the stored chart %x is missing", hash[:4])
	}
	return chart, soundChart(hash, chart)
}

func soundChart(hash Hash, chart []byte) error {
	if sha256.Sum256(chart) != hash {
		return damaged("the stored chart %x does not match its checksum", hash[:4])
	}
	return nil
}

// Setting is a stored setting; ok is false when it was never set.
func (tx *Tx) Setting(name string) (value []byte, ok bool) {
	value = bytes.Clone(tx.btx.Bucket(bucketSettings).Get([]byte(name)))
	return value, value != nil
}

// PutSetting keeps a setting. The name must be valid UTF-8, as an export is, and not empty.
func (tx *Tx) PutSetting(name string, value []byte) error {
	if name == "" || !utf8.ValidString(name) {
		return fmt.Errorf("store: %q is no name for a setting", name)
	}
	return tx.put(tx.btx.Bucket(bucketSettings), []byte(name), value)
}

// DeleteSetting forgets a setting; one that was never set is no error.
func (tx *Tx) DeleteSetting(name string) error {
	return tx.remove(tx.btx.Bucket(bucketSettings), []byte(name))
}

// Cache is a cached value: what can be worked out again, outside the chain and the export. It may be
// old: it should carry the Mark it was made at. ok is false when none can be trusted.
func (tx *Tx) Cache(name []byte) (value []byte, ok bool) {
	_ = tx.cached(func(b *bbolt.Bucket) error {
		value, ok = unseal(name, b.Get(name))
		return nil
	})
	return bytes.Clone(value), ok
}

// PutCache keeps a value. In a damaged cache it keeps nothing and adds a warning.
func (tx *Tx) PutCache(name, value []byte) error {
	return tx.cached(func(b *bbolt.Bucket) error { return tx.put(b, name, seal(name, value)) })
}

// DeleteCache forgets a value; one that is not there is no error.
func (tx *Tx) DeleteCache(name []byte) error {
	return tx.cached(func(b *bbolt.Bucket) error { return tx.remove(b, name) })
}

// cached works on the cache. Where that is damaged it warns, and gives it up for this transaction.
func (tx *Tx) cached(fn func(*bbolt.Bucket) error) error {
	if tx.cacheBad {
		return nil
	}
	b, err := tx.bucket(bucketCache)
	if err == nil {
		err = fn(b)
	}
	if errors.Is(err, bbolterrors.ErrTxNotWritable) {
		return err
	}
	if err != nil {
		tx.cacheBad = true
		tx.warnings = append(tx.warnings, Warning{Text: "the cache cannot be used and is left alone"})
	}
	return nil
}
