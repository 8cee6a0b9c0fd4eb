package store

import (
	"bytes"
	"crypto/sha256"
)

// Hash is the SHA-256 of a chart's bytes, by which a piece names it.
type Hash [32]byte

// PutChart keeps a chart's bytes as they were read; the same bytes are kept once.
func (tx *Tx) PutChart(chart []byte) (Hash, error) {
	hash := Hash(sha256.Sum256(chart))
	if err := tx.change(); err != nil {
		return hash, err
	}
	b, err := tx.bucket(bucketCharts)
	if err != nil {
		return hash, err
	}
	if old := b.Get(hash[:]); old != nil {
		if !bytes.Equal(old, chart) {
			return hash, damaged("the stored chart %x does not match its checksum", hash[:4])
		}
		return hash, nil
	}
	return hash, b.Put(hash[:], chart)
}

// RemoveChart takes a chart out of the store; one that is not there is no error. That no log
// names it any more is its caller's affair.
func (tx *Tx) RemoveChart(hash Hash) error {
	if err := tx.change(); err != nil {
		return err
	}
	b, err := tx.bucket(bucketCharts)
	if err != nil {
		return err
	}
	return b.Delete(hash[:])
}

// Chart is a chart as it was read; valid only inside the Tx. A hash comes from an
// event or an info, so a chart that is not there is damage.
func (tx *Tx) Chart(hash Hash) ([]byte, error) {
	b, err := tx.bucket(bucketCharts)
	if err != nil {
		return nil, err
	}
	chart := b.Get(hash[:])
	switch {
	case chart == nil:
		return nil, damaged("the stored chart %x is missing", hash[:4])
	case sha256.Sum256(chart) != hash:
		return nil, damaged("the stored chart %x does not match its checksum", hash[:4])
	}
	return chart, nil
}
