package store

import (
	"fmt"
	"iter"

	"go.etcd.io/bbolt"
)

// Append adds an event to the end of a piece's log and returns its number. It
// refuses a log whose end is not what the store promised, and a time outside the
// years 0 to 9999, which an export could not tell.
func (tx *Tx) Append(id PieceID, r Record) (uint64, error) {
	if year := r.Time.UTC().Year(); year < 0 || year > 9999 {
		return 0, fmt.Errorf("store: the year %d cannot be recorded", year)
	}
	if err := tx.change(); err != nil {
		return 0, err
	}
	log, h, err := tx.log(id)
	if err != nil {
		return 0, err
	}
	if err := tx.sameEnd(id, h.tail, log); err != nil {
		return 0, err
	}
	return tx.put(log, h, r)
}

// put writes an event behind the end of a log.
func (tx *Tx) put(log *bbolt.Bucket, h pieceHead, r Record) (uint64, error) {
	seq, err := log.NextSequence()
	if err != nil {
		return 0, err
	}
	if seq != h.tail.Seq+1 {
		return 0, damagedEvent(h.id, h.tail.Seq, "the next number would be %d", seq)
	}
	r.Seq = seq
	value, crc := encodeEvent(h.uid, h.tail.CRC, r)
	log.FillPercent = 1 // events come in order: a page that is full stays as it is
	if err := log.Put(key(seq), value); err != nil {
		return 0, err
	}
	h.tail = Mark{Seq: seq, CRC: crc}
	tx.summary.last, tx.summary.lastPiece = h.tail, h.id
	return seq, tx.putHead(h)
}

// Tail is the place of the last event of a piece; the zero Mark when it has none.
func (tx *Tx) Tail(id PieceID) (Mark, error) {
	h, found := tx.head(id)
	if !found {
		return Mark{}, ErrNoPiece
	}
	return h.tail, nil
}

// Records goes through the events of a piece in order, and verifies the chain as it goes:
// each event's checksum, that it continues the one before, and that the last is the one
// saved last. After an error no more events follow. Payloads are valid only inside the Tx.
func (tx *Tx) Records(id PieceID) iter.Seq2[Record, error] {
	return func(yield func(Record, error) bool) {
		log, h, err := tx.log(id)
		if err != nil {
			yield(Record{}, err)
			return
		}
		tx.each(log, h, yield)
	}
}

// each is the loop of Records.
func (tx *Tx) each(log *bbolt.Bucket, h pieceHead, yield func(Record, error) bool) {
	at := Mark{}
	c := log.Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		e, err := tx.check(h.id, h, at, k, v)
		if err == nil && e.before != at.CRC {
			err = damagedEvent(h.id, e.seq, "the event does not continue the one before it")
		}
		if err != nil {
			yield(Record{}, err)
			return
		}
		at = Mark{Seq: e.seq, CRC: e.crc}
		if !yield(e.record(), nil) {
			return
		}
	}
	if at != h.tail {
		yield(Record{}, damagedEvent(h.id, at.Seq+1, "the event is missing: the log should end with event %d", h.tail.Seq))
	}
}

// check verifies one event found in the log of a piece behind another.
func (tx *Tx) check(id PieceID, h pieceHead, before Mark, k, v []byte) (rawEvent, error) {
	e, ok := decodeEvent(k, v)
	if !ok || e.uid != h.uid {
		return e, damagedEvent(id, before.Seq+1, "the event does not match its checksum")
	}
	if e.seq != before.Seq+1 {
		return e, damagedEvent(id, before.Seq+1, "the event is missing")
	}
	return e, nil
}

// sameEnd verifies that the log ends with the event its head promises.
func (tx *Tx) sameEnd(id PieceID, tail Mark, log *bbolt.Bucket) error {
	k, v := log.Cursor().Last()
	if tail.Seq == 0 && k == nil {
		return nil
	}
	e, ok := decodeEvent(k, v)
	if !ok || e.seq != tail.Seq || e.crc != tail.CRC {
		return damagedEvent(id, tail.Seq, "this is not the event that was saved last")
	}
	return nil
}

// log finds the head and the log of a piece, whose pages are sound.
func (tx *Tx) log(id PieceID) (*bbolt.Bucket, pieceHead, error) {
	h, b, err := tx.piece(id)
	if err != nil {
		return nil, h, err
	}
	log := b.Bucket(keyLog)
	if log == nil {
		return nil, h, damagedEvent(id, 0, "the log of the piece is missing")
	}
	return log, h, blame(id, tx.fault(log))
}
