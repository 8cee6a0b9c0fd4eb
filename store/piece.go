package store

import (
	"bytes"
	"cmp"
	"crypto/rand"
	"fmt"
	"slices"
	"time"

	"go.etcd.io/bbolt"
)

func (tx *Tx) heads() (all []listed) {
	c := tx.btx.Bucket(bucketHeads).Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		h, _ := decodeHead(k, v) // as it could be when the transaction began
		all = append(all, h)
	}
	return all
}

func (tx *Tx) head(id PieceID) (listed, error) {
	k := key(uint64(id))
	h, found := decodeHead(k, tx.btx.Bucket(bucketHeads).Get(k))
	if !found {
		return h, ErrNoPiece
	}
	return h, nil
}

func (tx *Tx) putHead(h listed) error {
	k := key(uint64(h.id))
	h.Format = valueFormat
	return tx.put(tx.btx.Bucket(bucketHeads), k, encode(k, h.pieceHead, nil))
}

// Pieces lists all pieces in the order they were made.
func (tx *Tx) Pieces() (ids []PieceID) {
	for _, h := range tx.heads() {
		ids = append(ids, h.id)
	}
	return ids
}

func (tx *Tx) pieceOf(uid UID) (PieceID, error) {
	heads := tx.heads()
	i := slices.IndexFunc(heads, func(h listed) bool { return h.UID == uid })
	if i < 0 {
		return 0, ErrNoPiece
	}
	return heads[i].id, nil
}

// NewPiece makes a piece with an empty log. The info is kept as it is.
func (tx *Tx) NewPiece(info []byte) (PieceID, error) {
	var uid UID
	_, _ = rand.Read(uid[:]) // it never fails
	return tx.newPiece(0, uid, info)
}

// newPiece makes a piece under the number asked for, or the next one where that was passed.
func (tx *Tx) newPiece(asked PieceID, uid UID, info []byte) (PieceID, error) {
	pieces, err := tx.bucket(bucketPieces)
	if err != nil {
		return 0, err
	}
	n := max(uint64(asked), pieces.Sequence()+1)
	if err := pieces.SetSequence(n); err != nil {
		return 0, err
	}
	if last, _ := tx.btx.Bucket(bucketHeads).Cursor().Last(); bytes.Compare(last, key(n)) >= 0 {
		return 0, damaged("the number for a new piece, %d, is taken", n)
	}
	b, err := pieces.CreateBucket(key(n))
	if err != nil {
		return 0, damaged("piece %d is there but not listed", n)
	}
	_, err = b.CreateBucket(keyLog)
	h := listed{id: PieceID(n), pieceHead: pieceHead{UID: uid}}
	return h.id, cmp.Or(err, tx.putInfo(openPiece{listed: h, bucket: b}, info))
}

// Info is what was kept with a piece.
func (tx *Tx) Info(id PieceID) ([]byte, error) {
	p, err := tx.piece(id)
	if err != nil {
		return nil, err
	}
	value := p.bucket.Get(keyInfo)
	info, uid, ok := decodeInfo(value)
	if !ok || uid != p.UID || crcOf(value) != p.Info {
		return nil, damagedEvent(id, 0, "what is known of the piece does not match its checksum")
	}
	return info, nil
}

// SetInfo replaces what is kept with a piece.
func (tx *Tx) SetInfo(id PieceID, info []byte) error {
	if _, err := tx.Info(id); err != nil {
		return err
	}
	p, err := tx.logged(id)
	if err != nil {
		return err
	}
	return tx.putInfo(p, info)
}

func (tx *Tx) putInfo(p openPiece, info []byte) error {
	value := encode(keyInfo, infoHead{valueFormat, p.UID}, info)
	p.Info = crcOf(value)
	return cmp.Or(tx.putHead(p.listed), p.bucket.Put(keyInfo, value))
}

// RemovePiece takes out a piece and its log. Its number is not given to another.
func (tx *Tx) RemovePiece(id PieceID) error {
	if _, err := tx.logged(id); err != nil {
		return err
	}
	k := key(uint64(id))
	return cmp.Or(tx.btx.Bucket(bucketPieces).DeleteBucket(k), tx.remove(tx.btx.Bucket(bucketHeads), k))
}

type openPiece struct {
	listed
	bucket, log *bbolt.Bucket
}

func (tx *Tx) piece(id PieceID) (p openPiece, err error) {
	if p.listed, err = tx.head(id); err != nil {
		return p, err
	}
	pieces, err := tx.bucket(bucketPieces)
	if err == nil {
		p.bucket, err = tx.within(id, pieces, key(uint64(id)), "the piece is listed but not there")
	}
	return p, err
}

func (tx *Tx) logged(id PieceID) (openPiece, error) {
	p, err := tx.piece(id)
	if err == nil {
		p.log, err = tx.within(id, p.bucket, keyLog, "the log of the piece is missing")
	}
	return p, err
}

// within is a bucket that a piece cannot do without.
func (tx *Tx) within(id PieceID, outer *bbolt.Bucket, k []byte, missing string) (*bbolt.Bucket, error) {
	b := outer.Bucket(k)
	if b == nil {
		return nil, damagedEvent(id, 0, "%s", missing)
	}
	fault := tx.fault(b)
	if e, ok := fault.(*Error); ok && e.Piece == 0 {
		e.Piece = id
	}
	return b, fault
}

// PieceID numbers the pieces of one store from 1 in the order they were made. A number is never
// used again. Another store numbers the same piece differently.
type PieceID uint64

// UID is the identity of a piece wherever it goes: random, and kept in every event of it.
type UID [8]byte

// Mark is a place in the log of a piece; the zero Mark is before the first event.
type Mark struct {
	Seq uint64
	CRC uint32
}

// Record is one event. Append uses Kind, Time and Payload and finds the rest itself.
type Record struct {
	Seq     uint64 // from 1, without gaps
	Kind    uint16
	Time    time.Time // with the offset of its zone; for display, never for order
	Payload []byte
	CRC     uint32
}

// Mark is the record's place in its log.
func (r Record) Mark() Mark { return Mark{Seq: r.Seq, CRC: r.CRC} }

// KindLost is what salvage puts in the place of a lost event, so that others keep their numbers; it is empty.
const KindLost uint16 = 0xFFFF

// eventHead begins an event's value; the payload follows. As the checksum of the event
// before is in it, an event vouches for all that came earlier; as the UID is too, an event
// found anywhere in a damaged file can be put back.
type eventHead struct {
	Format  uint8
	Kind    uint16
	Seconds int64 // of Unix time
	Nanos   uint32
	Zone    int32 // seconds east
	UID     UID
	Before  uint32
}

func encodeEvent(uid UID, before uint32, r Record) []byte {
	_, zone := r.Time.Zone()
	head := eventHead{valueFormat, r.Kind, r.Time.Unix(), uint32(r.Time.Nanosecond()), int32(zone), uid, before}
	return encode(key(r.Seq), head, r.Payload)
}

// rawEvent is an event whose checksum holds.
type rawEvent struct {
	Record
	uid    UID
	before uint32
}

// decodeEvent reads an event found under a key; ok is false when its checksum does not hold.
func decodeEvent(key, value []byte) (e rawEvent, ok bool) {
	var head eventHead
	payload, ok := decode(key, value, &head)
	if !ok || len(key) != 8 {
		return e, false
	}
	at := time.Unix(head.Seconds, int64(head.Nanos)).In(zoneAt(head.Zone))
	r := Record{Seq: big.Uint64(key), Kind: head.Kind, Time: at, Payload: bytes.Clone(payload), CRC: crcOf(value)}
	return rawEvent{r, head.UID, head.Before}, true
}

func zoneAt(offset int32) *time.Location {
	if offset == 0 {
		return time.UTC
	}
	return time.FixedZone("", int(offset))
}

// Append adds an event to a log and returns its number. It refuses a log whose end is not what the
// store promised, and a time outside the years 0 to 9999, which an export could not tell.
func (tx *Tx) Append(id PieceID, r Record) (uint64, error) {
	if year := r.Time.UTC().Year(); year < 0 || year > 9999 {
		return 0, fmt.Errorf("store: the year %d cannot be recorded", year)
	}
	p, err := tx.logged(id)
	if err != nil {
		return 0, err
	}
	if k, v := p.log.Cursor().Last(); k != nil || p.Tail.Seq > 0 {
		if e, ok := decodeEvent(k, v); !ok || e.Mark() != p.Tail {
			return 0, damagedEvent(id, p.Tail.Seq, "this is not the event that was saved last")
		}
	}
	if r.Seq, err = p.log.NextSequence(); err != nil {
		return 0, err
	}
	if r.Seq != p.Tail.Seq+1 {
		return 0, damagedEvent(id, p.Tail.Seq, "the next number would be %d", r.Seq)
	}
	value := encodeEvent(p.UID, p.Tail.CRC, r)
	p.Tail = Mark{Seq: r.Seq, CRC: crcOf(value)}
	tx.summary.LastSeq, tx.summary.LastCRC, tx.summary.LastPiece = p.Tail.Seq, p.Tail.CRC, id
	p.log.FillPercent = 1 // events come in order: a page that is full stays as it is
	return r.Seq, cmp.Or(tx.put(p.log, key(r.Seq), value), tx.putHead(p.listed))
}

// Tail is the place of the last event of a piece; the zero Mark when it has none.
func (tx *Tx) Tail(id PieceID) (Mark, error) {
	h, err := tx.head(id)
	return h.Tail, err
}

// Records are the events of a piece in order, with the chain verified to the event saved last; those
// before a fault are given with it.
func (tx *Tx) Records(id PieceID) (all []Record, err error) {
	p, err := tx.logged(id)
	if err != nil {
		return nil, err
	}
	at := Mark{}
	c := p.log.Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		e, ok := decodeEvent(k, v)
		switch {
		case !ok || e.uid != p.UID:
			return all, damagedEvent(id, at.Seq+1, "the event does not match its checksum")
		case e.Seq != at.Seq+1:
			return all, damagedEvent(id, at.Seq+1, "the event is missing")
		case e.before != at.CRC:
			return all, damagedEvent(id, e.Seq, "the event does not continue the one before it")
		}
		at = e.Mark()
		all = append(all, e.Record)
	}
	if at != p.Tail {
		return all, damagedEvent(id, at.Seq+1, "the event is missing: the log should end with event %d", p.Tail.Seq)
	}
	return all, nil
}
