package store

import "crypto/sha256"

// Hash is the SHA-256 of a chart's bytes, by which a piece names it.
type Hash [32]byte

// PutChart keeps a chart's bytes as they were read; the same bytes are kept once.
func (tx *Tx) PutChart(chart []byte) (Hash, error) {
	hash := Hash(sha256.Sum256(chart))
	if err := tx.change(); err != nil {
		return hash, err
	}
	b := tx.btx.Bucket(bucketCharts)
	if old := b.Get(hash[:]); old != nil {
		return hash, soundChart(hash, old)
	}
	return hash, b.Put(hash[:], chart)
}

// RemoveChart takes a chart out of the store; one that is not there is no error. That no log
// names it any more is its caller's affair.
func (tx *Tx) RemoveChart(hash Hash) error {
	if err := tx.change(); err != nil {
		return err
	}
	return tx.btx.Bucket(bucketCharts).Delete(hash[:])
}

// Chart is a chart as it was read; valid only inside the Tx. A hash comes from an
// event or an info, so a chart that is not there is damage.
func (tx *Tx) Chart(hash Hash) ([]byte, error) {
	chart := tx.btx.Bucket(bucketCharts).Get(hash[:])
	if chart == nil {
		return nil, damaged("the stored chart %x is missing", hash[:4])
	}
	return chart, soundChart(hash, chart)
}

// soundChart holds a chart against its name.
func soundChart(hash Hash, chart []byte) error {
	if sha256.Sum256(chart) != hash {
		return damaged("the stored chart %x does not match its checksum", hash[:4])
	}
	return nil
}
