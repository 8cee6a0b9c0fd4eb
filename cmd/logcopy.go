package cmd

import (
	"encoding/binary"
	"encoding/hex"
	"time"

	"strandwise/session"
	"strandwise/store"
)

// A long log is read event by event from many pages, each event held against its
// checksum. So that a step on a piece of 5,000 events takes hardly longer than on
// one of 50, the cache keeps a copy of the log as one value, made anew now and then.
// The copy says up to which event it goes and that event's checksum, which stands
// for all before it; the store finds that event in the log and reads on from there.
// A copy that does not fit the log, or is none, is passed over. `store check` never
// reads one.
//
// A copy is the number of its format, the mark it goes up to, how many records there
// are, and for each its kind, how far its number is from the one before, its time as
// seconds after the one before and nanoseconds into the second, the zone in seconds
// east, and its payload. All are varints; the payload has its length before it.

const (
	copyFormat = 1
	copyEvery  = 256 // events between one copy and the next
)

// copyName names the copy of a piece's log in the cache.
func copyName(tx *store.Tx, id store.PieceID) ([]byte, error) {
	uid, err := tx.UID(id)
	return []byte("log " + hex.EncodeToString(uid[:])), err
}

// quickLog reads the log of a piece, as much as possible of it from its copy, and
// says how many of the records, the first, come from there.
func quickLog(tx *store.Tx, id store.PieceID) (records []session.Record, copied int, err error) {
	name, err := copyName(tx, id)
	if err != nil {
		return nil, 0, err
	}
	tail, err := tx.Tail(id)
	if err != nil {
		return nil, 0, err
	}
	if kept, ok := tx.Cache(name); ok {
		if records, mark, ok := readCopy(kept, tail.Seq); ok {
			copied = len(records)
			if records, err = readOn(tx, id, records, mark); err == nil {
				return records, copied, nil
			}
		}
	}
	records, err = readLog(tx, id)
	return records, 0, err
}

// keepCopy makes a new copy of a log when many events have come since the last one. The
// records are all of the log, and so many of them, the first, came from a copy.
func keepCopy(tx *store.Tx, id store.PieceID, records []session.Record, copied int) error {
	if len(records)-copied < copyEvery {
		return nil
	}
	name, err := copyName(tx, id)
	if err != nil {
		return err
	}
	mark, err := tx.Tail(id)
	if err != nil {
		return err
	}
	return tx.PutCache(name, makeCopy(records, mark))
}

// dropCopy forgets the copy of a piece that goes.
func dropCopy(tx *store.Tx, id store.PieceID) error {
	name, err := copyName(tx, id)
	if err != nil {
		return err
	}
	return tx.DeleteCache(name)
}

// copyMark is the mark at the head of a copy.
func copyMark(kept []byte) (store.Mark, bool) {
	r := copyReader{b: kept}
	format, seq, crc := r.uvarint(), r.uvarint(), r.uvarint()
	return store.Mark{Seq: seq, CRC: uint32(crc)}, !r.bad && format == copyFormat
}

func makeCopy(records []session.Record, mark store.Mark) []byte {
	b := binary.AppendUvarint(nil, copyFormat)
	b = binary.AppendUvarint(binary.AppendUvarint(b, mark.Seq), uint64(mark.CRC))
	b = binary.AppendUvarint(b, uint64(len(records)))
	var seq uint64
	var at int64
	for _, r := range records {
		now := r.At.Unix()
		_, zone := r.At.Zone()
		b = binary.AppendUvarint(binary.AppendUvarint(b, uint64(r.Kind)), r.Seq-seq)
		b = binary.AppendUvarint(binary.AppendVarint(b, now-at), uint64(r.At.Nanosecond()))
		b = binary.AppendVarint(b, int64(zone))
		b = append(binary.AppendUvarint(b, uint64(len(r.Payload))), r.Payload...)
		seq, at = r.Seq, now
	}
	return b
}

// readCopy reads a copy; ok is false when it is none. end is the number of the last
// event of the log, for which room is left.
func readCopy(kept []byte, end uint64) (records []session.Record, mark store.Mark, ok bool) {
	mark, ok = copyMark(kept)
	if !ok || mark.Seq > end {
		return nil, mark, false
	}
	// The value is gone with the transaction, the payloads are needed after it.
	r := copyReader{b: append([]byte(nil), kept...)}
	r.uvarint()
	r.uvarint()
	r.uvarint()
	count := r.uvarint()
	if count > mark.Seq {
		return nil, mark, false
	}
	records = make([]session.Record, 0, end+roomToGrow)
	for range count {
		records = append(records, r.record())
	}
	return records, mark, !r.bad && len(r.b) == 0
}

// copyReader takes values from the front of a copy; after the first that is not there
// all are zero.
type copyReader struct {
	b    []byte
	bad  bool
	seq  uint64
	at   int64
	zone *time.Location
	east int64
}

func (r *copyReader) uvarint() uint64 {
	v, n := binary.Uvarint(r.b)
	if n <= 0 {
		r.b, r.bad = nil, true
		return 0
	}
	r.b = r.b[n:]
	return v
}

func (r *copyReader) varint() int64 {
	v, n := binary.Varint(r.b)
	if n <= 0 {
		r.b, r.bad = nil, true
		return 0
	}
	r.b = r.b[n:]
	return v
}

func (r *copyReader) record() session.Record {
	kind := r.uvarint()
	r.seq += r.uvarint()
	r.at += r.varint()
	nanos := int64(r.uvarint())
	zone := r.in(r.varint())
	n := r.uvarint()
	if n > uint64(len(r.b)) {
		r.b, r.bad = nil, true
		return session.Record{}
	}
	payload := r.b[:n:n]
	r.b = r.b[n:]
	return session.Record{Seq: r.seq, Kind: uint16(kind), At: time.Unix(r.at, nanos).In(zone), Payload: payload}
}

// in is the zone so many seconds east; events that follow each other mostly share
// it.
func (r *copyReader) in(east int64) *time.Location {
	switch {
	case east == 0:
		return time.UTC
	case r.zone == nil || r.east != east:
		r.east, r.zone = east, time.FixedZone("", int(east))
	}
	return r.zone
}
