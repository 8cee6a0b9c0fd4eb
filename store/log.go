package store

import (
	"fmt"
	"iter"
)

// Append adds an event to a log and returns its number. It refuses a log whose end is not what the
// store promised, and a time outside the years 0 to 9999, which an export could not tell.
func (tx *Tx) Append(id PieceID, r Record) (uint64, error) {
	if year := r.Time.UTC().Year(); year < 0 || year > 9999 {
		return 0, fmt.Errorf("store: the year %d cannot be recorded", year)
	}
	p, err := tx.changing(id)
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
	p.log.FillPercent = 1 // events come in order: a page that is full stays as it is
	if err := p.log.Put(key(r.Seq), value); err != nil {
		return 0, err
	}
	p.Tail = Mark{Seq: r.Seq, CRC: crcOf(value)}
	tx.summary.LastSeq, tx.summary.LastCRC, tx.summary.LastPiece = p.Tail.Seq, p.Tail.CRC, id
	return r.Seq, tx.putHead(p.listed)
}

// Tail is the place of the last event of a piece; the zero Mark when it has none.
func (tx *Tx) Tail(id PieceID) (Mark, error) {
	h, err := tx.head(id)
	return h.Tail, err
}

// Records goes through the events of a piece in order and verifies the chain, to the event saved
// last. After an error no more events follow. Payloads are valid only inside the Tx.
func (tx *Tx) Records(id PieceID) iter.Seq2[Record, error] {
	return func(yield func(Record, error) bool) {
		p, err := tx.logged(id)
		if err == nil {
			err = p.each(func(r Record) bool { return yield(r, nil) })
		}
		if err != nil {
			yield(Record{}, err)
		}
	}
}

// each is the loop of Records; it ends with the first fault, or where it is broken off.
func (p openPiece) each(yield func(Record) bool) error {
	at := Mark{}
	c := p.log.Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		e, ok := decodeEvent(k, v)
		switch {
		case !ok || e.uid != p.UID:
			return damagedEvent(p.id, at.Seq+1, "the event does not match its checksum")
		case e.Seq != at.Seq+1:
			return damagedEvent(p.id, at.Seq+1, "the event is missing")
		case e.before != at.CRC:
			return damagedEvent(p.id, e.Seq, "the event does not continue the one before it")
		}
		if at = e.Mark(); !yield(e.Record) {
			return nil
		}
	}
	if at != p.Tail {
		return damagedEvent(p.id, at.Seq+1, "the event is missing: the log should end with event %d", p.Tail.Seq)
	}
	return nil
}
