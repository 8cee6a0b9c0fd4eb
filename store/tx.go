package store

import (
	"bytes"
	"errors"
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
	opened   *opened
	walker   *walker
	walked   map[uint64]error // roots of buckets examined whole, with what was found
	summary  summary
	heads    []pieceHead
	changes  map[PieceID]headChange
	newest   PieceID // the highest number of a piece so far
	changed  bool
	sound    bool // all pages have been walked already
	settings map[string][]byte
	cacheBad bool
	edged    map[uint64]error // roots of logs examined on the way to their end
	asked    map[uint64]int   // keys asked for of buckets not examined whole, by root
	zones    zones
	warnings []Warning
}

// Warnings are what the caller should show though the work went on: the last
// commit may be gone because one of the file's two headers is bad.
func (tx *Tx) Warnings() []Warning { return slices.Clone(tx.warnings) }

// root is the page the top buckets hang from.
func (tx *Tx) root() uint64 { return uint64(tx.btx.Cursor().Bucket().Root()) }

// begin makes sure that the state can be trusted as far as its heads.
func (tx *Tx) begin() error {
	if err := tx.identify(); err != nil {
		return err
	}
	if err := tx.readSummary(); err != nil {
		return err
	}
	if err := tx.sumHeads(); err != nil {
		return err
	}
	tx.warnOfHeader()
	return tx.spareUsedPages()
}

// wholeWalk is the largest store, in pages, all of which is walked before a change:
// 1 MiB, some 7,000 events, at about 1 µs a page.
const wholeWalk = 256

// spareUsedPages makes sure, before a change to a store of usual size, that no
// page in use is listed as free, wherever it is: bbolt would write over it. In a
// larger store only the pages on the way of the change are looked at. Other faults
// are left to be found where they matter, so that one damaged piece does not stop
// work on the others.
func (tx *Tx) spareUsedPages() error {
	if !tx.btx.Writable() || tx.opened.look.pages > wholeWalk {
		return nil
	}
	err := newWalker(tx.opened.pages, tx.opened.look).deep(tx.root())
	var e *Error
	if errors.As(err, &e) && e.freed {
		return err
	}
	tx.sound = err == nil
	return nil
}

// identify tells a store of this program, of this schema, from others.
func (tx *Tx) identify() error {
	if err := tx.walker.walk(tx.root(), walking{}); err != nil {
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

// Origin tells where and when the store was made.
type Origin struct {
	ID      string // random, 32 hexadecimal digits
	Created string // RFC 3339
	Writer  string // the version of the program that made it
}

// Origin reads it.
func (tx *Tx) Origin() (Origin, error) {
	meta := tx.btx.Bucket(bucketMeta)
	id, okID := unseal(metaID, meta.Get(metaID))
	created, okCreated := unseal(metaCreated, meta.Get(metaCreated))
	writer, okWriter := unseal(metaWriter, meta.Get(metaWriter))
	if !okID || !okCreated || !okWriter {
		return Origin{}, damaged("what is known of the store's making does not match its checksum")
	}
	return Origin{ID: id, Created: created, Writer: writer}, nil
}

// newer is the refusal of a store from a later version.
func newer(have int) error {
	return &Error{
		Class: ClassNewer,
		What:  "the store has schema " + strconv.Itoa(have) + " and this program knows schema " + strconv.Itoa(schema) + " at most",
		Next:  "use the newer version of the program that wrote it",
		Have:  have,
		Known: schema,
	}
}

// readSummary reads the summary and holds it against the header.
func (tx *Tx) readSummary() error {
	var ok bool
	tx.summary, ok = decodeSummary(tx.btx.Bucket(bucketMeta).Get(metaSummary))
	if !ok {
		return damaged("the summary of the store does not match its checksum")
	}
	if tx.summary.txid != tx.committed() {
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

// bucket finds a top bucket and examines its pages, once.
func (tx *Tx) bucket(name []byte) (*bbolt.Bucket, error) {
	b := tx.btx.Bucket(name)
	if b == nil {
		return nil, damaged("the part %q of the store is missing", name)
	}
	return b, tx.examine(b, isFlat(name))
}

// isFlat reports whether a top bucket holds values only.
func isFlat(name []byte) bool { return !bytes.Equal(name, bucketPieces) }

// bucketFor finds a top bucket for one key and examines its pages on the way there. Whoever
// asks for many gets the bucket examined as a whole, once.
func (tx *Tx) bucketFor(name, key []byte) (*bbolt.Bucket, error) {
	b := tx.btx.Bucket(name)
	if b == nil || b.Root() == 0 || tx.sound {
		return tx.bucket(name)
	}
	root := uint64(b.Root())
	if _, known := tx.walked[root]; known || tx.asked[root] == fewKeys {
		return b, tx.examine(b, isFlat(name))
	}
	tx.asked[root]++
	return b, tx.walker.walk(root, walking{way: toward(key), flat: isFlat(name), again: true})
}

// fewKeys is how many keys of a bucket are each looked for by a way of their own.
const fewKeys = 8

// examine walks the pages of a bucket once in a transaction. A bucket made in this
// transaction, or kept inside its parent's page, has none of its own.
func (tx *Tx) examine(b *bbolt.Bucket, flat bool) error {
	root := uint64(b.Root())
	if root == 0 || tx.sound {
		return nil
	}
	fault, known := tx.walked[root]
	if !known {
		fault = tx.walker.walk(root, walking{flat: flat})
		tx.walked[root] = fault
	}
	return fault
}

// warnOfHeader notes that one header is bad and names the event to look at.
func (tx *Tx) warnOfHeader() {
	if !tx.opened.look.oneBad {
		return
	}
	tx.warnings = append(tx.warnings, Warning{
		Kind:  WarnMeta,
		Piece: tx.summary.lastPiece,
		Seq:   tx.summary.last.Seq,
		Text:  "one of the store's two headers is damaged: what was saved last may be missing",
	})
}

// flush writes the heads that changed and the summary that vouches for them.
func (tx *Tx) flush() error {
	if !tx.changed {
		return nil
	}
	for _, c := range tx.changes {
		if err := tx.flushHead(c); err != nil {
			return err
		}
	}
	tx.summary.txid = uint64(tx.btx.ID())
	return tx.btx.Bucket(bucketMeta).Put(metaSummary, tx.summary.encode())
}

// change notes that there is something to commit.
func (tx *Tx) change() error {
	if !tx.btx.Writable() {
		return errReadOnly
	}
	tx.changed = true
	return nil
}
