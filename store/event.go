package store

import "time"

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

// rawEvent is an event whose checksum holds. The payload is a part of the value.
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
	r := Record{Seq: big.Uint64(key), Kind: head.Kind, Time: at, Payload: payload, CRC: crcOf(value)}
	return rawEvent{r, head.UID, head.Before}, true
}

func zoneAt(offset int32) *time.Location {
	if offset == 0 {
		return time.UTC
	}
	return time.FixedZone("", int(offset))
}
