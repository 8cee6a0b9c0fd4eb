package store

import (
	"encoding/binary"
	"hash/crc32"
	"time"
)

// PieceID numbers the pieces of one store from 1 in the order they were made. A
// number is never used again. Another store numbers the same piece differently;
// its identity there and here is its UID.
type PieceID uint64

// UID is the identity of a piece wherever it goes: random, made with the piece,
// kept in every event of it.
type UID [8]byte

// Mark is a place in the log of a piece: the number of an event and its checksum.
// The zero Mark is before the first event.
type Mark struct {
	Seq uint64
	CRC uint32
}

// Record is one event as the store knows it. Append uses Kind, Time and Payload
// and finds the rest itself.
type Record struct {
	Seq     uint64 // from 1, without gaps
	Kind    uint16
	Time    time.Time // with the offset of its zone; for display, never for order
	Payload []byte
	CRC     uint32
}

// Mark is the record's place in its log.
func (r Record) Mark() Mark { return Mark{Seq: r.Seq, CRC: r.CRC} }

// KindLost is the kind of a record that salvage put where an event could not be
// recovered, so that all others keep their numbers. Its payload is empty.
const KindLost uint16 = 0xFFFF

// An event's value, big-endian:
//
//	format 1, kind 2, seconds 8, nanoseconds 4, zone offset in seconds 4,
//	UID 8, CRC of the event before 4, payload, CRC 4
//
// The CRC-32C covers the key and all of the value before it. As the CRC of the
// event before is among that, an event vouches for all that came earlier; as the
// UID is too, an event found anywhere in a damaged file can be put back.
const (
	eventFormat = 1
	eventHead   = 31
	eventLeast  = eventHead + 4
)

var big = binary.BigEndian

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// sumOf is the CRC-32C of a key and what belongs to it.
func sumOf(key, body []byte) uint32 {
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, body)
}

// key is the 8-byte form of a number, in which order by bytes is order by number.
func key(n uint64) []byte { return big.AppendUint64(make([]byte, 0, 8), n) }

// encodeEvent makes an event's value and checksum.
func encodeEvent(uid UID, before uint32, r Record) ([]byte, uint32) {
	_, offset := r.Time.Zone()
	v := make([]byte, 0, eventLeast+len(r.Payload))
	v = append(v, eventFormat)
	v = big.AppendUint16(v, r.Kind)
	v = big.AppendUint64(v, uint64(r.Time.Unix()))
	v = big.AppendUint32(v, uint32(r.Time.Nanosecond()))
	v = big.AppendUint32(v, uint32(int32(offset)))
	v = append(v, uid[:]...)
	v = big.AppendUint32(v, before)
	v = append(v, r.Payload...)
	crc := sumOf(key(r.Seq), v)
	return big.AppendUint32(v, crc), crc
}

// rawEvent is an event whose checksum holds.
type rawEvent struct {
	seq    uint64
	uid    UID
	before uint32
	crc    uint32
	value  []byte
}

// decodeEvent reads an event found under a key; ok is false when its checksum
// does not hold.
func decodeEvent(key, value []byte) (e rawEvent, ok bool) {
	n := len(value) - 4
	if len(key) != 8 || n < eventHead || value[0] != eventFormat {
		return e, false
	}
	e = rawEvent{seq: big.Uint64(key), crc: big.Uint32(value[n:]), value: value}
	if sumOf(key, value[:n]) != e.crc {
		return e, false
	}
	e.uid = UID(value[19:27])
	e.before = big.Uint32(value[27:])
	return e, true
}

// record is the event as handed to a caller. The payload is a part of the value.
func (e rawEvent) record() Record {
	v, n := e.value, len(e.value)-4
	at := time.Unix(int64(big.Uint64(v[3:])), int64(big.Uint32(v[11:])))
	return Record{
		Seq:     e.seq,
		Kind:    big.Uint16(v[1:]),
		Time:    at.In(zoneAt(int32(big.Uint32(v[15:])))),
		Payload: v[eventHead:n:n],
		CRC:     e.crc,
	}
}

// zoneAt is the zone so many seconds east of Greenwich.
func zoneAt(offset int32) *time.Location {
	if offset == 0 {
		return time.UTC
	}
	return time.FixedZone("", int(offset))
}
