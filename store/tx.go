package store

import (
	"strconv"

	"go.etcd.io/bbolt"
)

// schema is the layout this program writes and the highest it knows.
const schema = 1

// Tx is one state of the store, or a change to it, good only inside the function it was handed to.
type Tx struct {
	store    *Store
	btx      *bbolt.Tx
	file     *locked
	survey   *survey
	schema   int // that the file has
	summary  summary
	changed  bool
	cacheBad bool
	warnings []Warning
}

// call runs a callback on a state that can be trusted, and tells the warnings.
func (tx *Tx) call(fn func(*Tx) error) error {
	if err := tx.begin(); err != nil {
		return err
	}
	if tx.store.options.Begin != nil {
		tx.store.options.Begin(tx)
	}
	err := fn(tx)
	if tx.store.options.Warn != nil && ClassOf(err) != ClassDamaged {
		for _, w := range tx.warnings {
			tx.store.options.Warn(tx, w)
		}
	}
	return err
}

// begin makes sure that heads, settings and the list of charts can be trusted, and before a change
// that no page in use is listed as free: bbolt would write over it.
func (tx *Tx) begin() error {
	if err := tx.beginHeads(); err != nil {
		return err
	}
	for place := range tallied {
		if err := tx.sameTally(place); err != nil {
			return err
		}
	}
	if tx.btx.Writable() {
		return tx.survey.freed
	}
	return nil
}

// beginHeads makes sure that the state can be trusted as far as its heads.
func (tx *Tx) beginHeads() error {
	if err := tx.identify(); err != nil {
		return err
	}
	if err := tx.readSummary(); err != nil {
		return err
	}
	if tx.file.oneBad {
		tx.warnings = append(tx.warnings, Warning{Piece: tx.summary.LastPiece, Seq: tx.summary.LastSeq, Text: headerDamage})
	}
	return tx.sameTally(tallyHeads)
}

func (tx *Tx) sameTally(place int) error {
	b, err := tx.bucket(tallied[place].bucket)
	if err == nil && tallyOf(b, place) != tx.summary.Tallies[place] {
		err = damaged("%s", tallied[place].otherwise)
	}
	return err
}

func (tx *Tx) identify() error {
	if err := tx.survey.faults[tx.file.Root]; err != nil {
		return err
	}
	meta := tx.btx.Bucket(bucketMeta)
	if meta == nil || meta.Get(metaSchema) == nil {
		return problem(ClassForeign, notAStore)
	}
	if meta.Root() != 0 {
		return damaged("the root page does not hold what it should")
	}
	number, ok := unseal(metaSchema, meta.Get(metaSchema))
	have, err := strconv.Atoi(string(number))
	tx.schema = have
	switch {
	case !ok || err != nil || have < 0:
		return damaged("the schema number cannot be read")
	case have > schema:
		return problem(ClassNewer, "the store has schema %d and this program knows schema %d at most", have, schema)
	case have < schema:
		return problem(classOlder, "the store has the older schema %d", have)
	}
	return nil
}

// readSummary reads the summary and holds it against the header. Both headers of a copy tell
// of its one state, and the older has a number less than the summary: it counts where the
// newer is lost.
func (tx *Tx) readSummary() error {
	rest, ok := decode(nil, tx.btx.Bucket(bucketMeta).Get(metaSummary), &tx.summary)
	if !ok || len(rest) > 0 {
		return damaged("the summary of the store does not match its checksum")
	}
	ofCopy := tx.file.oneBad && tx.summary.Commit == tx.file.Commit+1
	if tx.summary.Commit != tx.file.Commit && !ofCopy {
		return damaged("the root page is not the one written last")
	}
	return nil
}

func (tx *Tx) flush() error {
	for place, t := range tallied {
		tx.summary.Tallies[place] = tallyOf(tx.btx.Bucket(t.bucket), place)
	}
	tx.summary.Commit = uint64(tx.btx.ID())
	return tx.btx.Bucket(bucketMeta).Put(metaSummary, encode(nil, tx.summary, nil))
}

func (tx *Tx) bucket(name []byte) (*bbolt.Bucket, error) {
	b := tx.btx.Bucket(name)
	if b == nil {
		return nil, damaged("the bucket %q of the store is missing", name)
	}
	return b, tx.fault(b)
}

// fault is what is wrong with the pages of a bucket. One made in this transaction, or kept
// inside its parent's page, has none of its own.
func (tx *Tx) fault(b *bbolt.Bucket) error { return tx.survey.faults[uint64(b.Root())] }

// wholly refuses a state that may lack what was saved last: a copy of it would hide that.
func (tx *Tx) wholly() error {
	if tx.file.oneBad {
		return damaged(headerDamage)
	}
	return nil
}

// Writable reports whether the transaction can change the store.
func (tx *Tx) Writable() bool { return tx.btx.Writable() }

// put keeps a value under a key, and remove takes one away. bbolt refuses both inside a read.
func (tx *Tx) put(b *bbolt.Bucket, key, value []byte) error {
	tx.changed = tx.btx.Writable()
	return b.Put(key, value)
}

func (tx *Tx) remove(b *bbolt.Bucket, key []byte) error {
	tx.changed = tx.btx.Writable()
	return b.Delete(key)
}
