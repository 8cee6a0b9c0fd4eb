package store

import (
	"bytes"
	"cmp"
	"slices"
	"strconv"

	"go.etcd.io/bbolt"
)

// The buckets at the top of the file.
var (
	bucketMeta     = []byte("meta")
	bucketHeads    = []byte("heads")
	bucketPieces   = []byte("pieces")
	bucketCharts   = []byte("charts")
	bucketSettings = []byte("settings")
	bucketCache    = []byte("cache")
)

// The keys of the bucket meta.
var (
	metaSchema  = []byte("schema")
	metaID      = []byte("id")
	metaCreated = []byte("created")
	metaWriter  = []byte("writer")
	metaSummary = []byte("summary")
)

// schema is the layout this program writes and the highest it knows.
const schema = 1

// Tx is one state of the store, or a change to it. It is good only inside the
// function it was handed to.
type Tx struct {
	store    *Store
	btx      *bbolt.Tx
	file     *locked
	survey   *survey
	summary  summary
	changed  bool
	cacheBad bool
	warnings []Warning
}

// Warnings are what the caller should show though the work went on: the last
// commit may be gone because one of the file's two headers is bad.
func (tx *Tx) Warnings() []Warning { return slices.Clone(tx.warnings) }

// begin makes sure that the state can be trusted as far as its heads, settings and the list
// of its charts, and before a change that no page in use is listed as free: bbolt would
// write over it.
func (tx *Tx) begin() error {
	if err := tx.beginHeads(); err != nil {
		return err
	}
	if err := cmp.Or(tx.sameSettings(), tx.sameCharts()); err != nil {
		return err
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
	tx.warnOfHeader()
	return tx.sameTally(bucketHeads, tx.summary.heads, "the list of pieces is not the one written last")
}

// sameSettings and sameCharts hold what the names say against the summary.
func (tx *Tx) sameSettings() error {
	return tx.sameTally(bucketSettings, tx.summary.settings, "the settings are not the ones written last")
}

func (tx *Tx) sameCharts() error {
	return tx.sameTally(bucketCharts, tx.summary.charts, "the charts are not the ones written last")
}

// sameTally holds a top bucket against the summary.
func (tx *Tx) sameTally(name []byte, want tally, otherwise string) error {
	b, err := tx.bucket(name)
	if err == nil && tallyOf(b, bytes.Equal(name, bucketCharts)) != want {
		err = damaged("%s", otherwise)
	}
	return err
}

// identify tells a store of this program, of this schema, from others.
func (tx *Tx) identify() error {
	if err := tx.survey.faults[tx.file.root]; err != nil {
		return err
	}
	meta := tx.btx.Bucket(bucketMeta)
	if meta == nil || meta.Get(metaSchema) == nil {
		return &Error{Class: ClassForeign, What: "this is not a store of this program"}
	}
	if meta.Root() != 0 {
		return damaged("the root page does not hold what it should")
	}
	number, ok := unseal(metaSchema, meta.Get(metaSchema))
	have, err := strconv.Atoi(number)
	switch {
	case !ok || err != nil || have < 0:
		return damaged("the schema number cannot be read")
	case have > schema:
		return newer(have)
	case have < schema:
		return &olderError{have}
	}
	return nil
}

// origin tells where and when the store was made.
type origin struct {
	id      string // random, 32 hexadecimal digits
	created string // RFC 3339
	writer  string // the version of the program that made it
}

// origin reads it.
func (tx *Tx) origin() (origin, error) {
	meta := tx.btx.Bucket(bucketMeta)
	id, okID := unseal(metaID, meta.Get(metaID))
	created, okCreated := unseal(metaCreated, meta.Get(metaCreated))
	writer, okWriter := unseal(metaWriter, meta.Get(metaWriter))
	if !okID || !okCreated || !okWriter {
		return origin{}, damaged("what is known of the store's making does not match its checksum")
	}
	return origin{id, created, writer}, nil
}

// newer is the refusal of a store from a later version.
func newer(have int) error {
	return &Error{
		Class: ClassNewer,
		What:  "the store has schema " + strconv.Itoa(have) + " and this program knows schema " + strconv.Itoa(schema) + " at most",
		Next:  "use the newer version of the program that wrote it",
	}
}

// readSummary reads the summary and holds it against the header. Both headers of a copy tell
// of its one state, and the older has a number less than the summary: it counts where the
// newer is lost.
func (tx *Tx) readSummary() error {
	var ok bool
	tx.summary, ok = decodeSummary(tx.btx.Bucket(bucketMeta).Get(metaSummary))
	if !ok {
		return damaged("the summary of the store does not match its checksum")
	}
	ofCopy := tx.file.oneBad && tx.summary.txid == tx.committed()+1
	if tx.summary.txid != tx.committed() && !ofCopy {
		return damaged("the root page is not the one written last")
	}
	return nil
}

// committed is the number of the transaction whose state this is.
func (tx *Tx) committed() uint64 {
	if tx.btx.Writable() {
		return uint64(tx.btx.ID()) - 1
	}
	return uint64(tx.btx.ID())
}

// bucket finds a top bucket whose pages are sound.
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

// warnOfHeader notes that one header is bad and names the event to look at.
func (tx *Tx) warnOfHeader() {
	if !tx.file.oneBad {
		return
	}
	tx.warnings = append(tx.warnings, Warning{
		Kind:  WarnMeta,
		Piece: tx.summary.lastPiece,
		Seq:   tx.summary.last.Seq,
		Text:  headerDamage,
	})
}

// flush writes the summary that vouches for what was changed.
func (tx *Tx) flush() error {
	if !tx.changed {
		return nil
	}
	tx.summary.heads = tallyOf(tx.btx.Bucket(bucketHeads), false)
	tx.summary.settings = tallyOf(tx.btx.Bucket(bucketSettings), false)
	tx.summary.charts = tallyOf(tx.btx.Bucket(bucketCharts), true)
	tx.summary.txid = uint64(tx.btx.ID())
	return tx.btx.Bucket(bucketMeta).Put(metaSummary, tx.summary.encode())
}

// wholly refuses a state that may lack what was saved last: a copy of it would hide that.
func (tx *Tx) wholly() error {
	if tx.file.oneBad {
		return damaged(headerDamage)
	}
	return nil
}

// change notes that there is something to commit.
func (tx *Tx) change() error {
	if !tx.btx.Writable() {
		return errReadOnly
	}
	tx.changed = true
	return nil
}
