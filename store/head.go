package store

import "go.etcd.io/bbolt"

// A page that is old but was once good passes every checksum kept on it. What
// tells it from the present one must stand elsewhere. So the store keeps
//
//   - for each piece a head: the number and CRC of its last event and the CRC of
//     its info, in the bucket `heads`;
//   - in the bucket `meta`, which is small enough to lie inside the root page, a
//     tally of all heads, of all settings and of all charts, and the number of the
//     transaction that wrote it, which must be the one in the file's header.
//
// The header vouches for the root page, the root page for the heads, a head for
// the end of its log, and the end of a log for all before it. The tallies are held
// against the buckets at every opening.

// pieceHead is what the store promises of a piece.
type pieceHead struct {
	id   PieceID
	uid  UID
	tail Mark
	info uint32 // CRC of the info value
}

const (
	headFormat = 1
	headSize   = 1 + 8 + 8 + 4 + 4 + 4
)

// encode is the head's value: format, UID, number, CRC, info's CRC, CRC of it all
// and the key.
func (h pieceHead) encode() []byte {
	v := make([]byte, 0, headSize)
	v = append(v, headFormat)
	v = append(v, h.uid[:]...)
	v = big.AppendUint64(v, h.tail.Seq)
	v = big.AppendUint32(v, h.tail.CRC)
	v = big.AppendUint32(v, h.info)
	return big.AppendUint32(v, sumOf(key(uint64(h.id)), v))
}

// decodeHead reads a head; ok is false when its checksum does not hold.
func decodeHead(k, v []byte) (h pieceHead, ok bool) {
	if len(k) != 8 || len(v) != headSize || v[0] != headFormat || sumOf(k, v[:headSize-4]) != big.Uint32(v[headSize-4:]) {
		return h, false
	}
	return pieceHead{
		id:   PieceID(big.Uint64(k)),
		uid:  UID(v[1:9]),
		tail: Mark{Seq: big.Uint64(v[9:]), CRC: big.Uint32(v[17:])},
		info: big.Uint32(v[21:]),
	}, true
}

// head finds the head of a piece.
func (tx *Tx) head(id PieceID) (h pieceHead, found bool) {
	k := key(uint64(id))
	return decodeHead(k, tx.btx.Bucket(bucketHeads).Get(k))
}

// heads lists the heads of all pieces by number.
func (tx *Tx) heads() []pieceHead {
	var all []pieceHead
	c := tx.btx.Bucket(bucketHeads).Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		h, _ := decodeHead(k, v) // as it could be when the transaction began
		all = append(all, h)
	}
	return all
}

// putHead writes the head of a piece.
func (tx *Tx) putHead(h pieceHead) error {
	return tx.btx.Bucket(bucketHeads).Put(key(uint64(h.id)), h.encode())
}

// tally is a count of entries and the sum of their checksums.
type tally struct{ count, sum uint64 }

// add counts an entry in. The length is mixed in, so that a byte cannot move from key to
// value.
func (t *tally) add(k, v []byte) {
	t.count++
	t.sum += uint64(sumOf(k, v))<<16 + uint64(len(k))
}

// tallyOf counts the entries of a bucket, of one of charts by their names, which vouch for
// the rest.
func tallyOf(b *bbolt.Bucket, namesOnly bool) (t tally) {
	c := b.Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		if namesOnly {
			v = nil
		}
		t.add(k, v)
	}
	return t
}

// summary is the record in `meta` that vouches for everything else.
type summary struct {
	txid                    uint64
	heads, settings, charts tally
	last                    Mark // number of the last event saved in any piece
	lastPiece               PieceID
}

const (
	summaryFormat = 1
	summarySize   = 1 + 8 + 6*8 + 8 + 4 + 8 + 4
)

// encode is the summary's value.
func (s summary) encode() []byte {
	v := make([]byte, 0, summarySize)
	v = append(v, summaryFormat)
	for _, n := range s.numbers() {
		v = big.AppendUint64(v, n)
	}
	v = big.AppendUint32(v, s.last.CRC)
	return big.AppendUint32(v, sumOf(nil, v))
}

// numbers lists the summary's numbers as they stand in its value.
func (s summary) numbers() []uint64 {
	return []uint64{
		s.txid, s.heads.count, s.heads.sum, s.settings.count, s.settings.sum,
		s.charts.count, s.charts.sum, s.last.Seq, uint64(s.lastPiece),
	}
}

// decodeSummary reads a summary; ok is false when its checksum does not hold.
func decodeSummary(v []byte) (s summary, ok bool) {
	if len(v) != summarySize || v[0] != summaryFormat || sumOf(nil, v[:summarySize-4]) != big.Uint32(v[summarySize-4:]) {
		return s, false
	}
	n := func(i int) uint64 { return big.Uint64(v[1+8*i:]) }
	return summary{
		txid:      n(0),
		heads:     tally{n(1), n(2)},
		settings:  tally{n(3), n(4)},
		charts:    tally{n(5), n(6)},
		last:      Mark{Seq: n(7), CRC: big.Uint32(v[1+8*9:])},
		lastPiece: PieceID(n(8)),
	}, true
}

// seal adds its CRC to a value of the bucket meta.
func seal(k []byte, v string) []byte { return big.AppendUint32([]byte(v), sumOf(k, []byte(v))) }

// unseal takes the CRC off; ok is false when it does not hold.
func unseal(k, sealed []byte) (v string, ok bool) {
	n := len(sealed) - 4
	if n < 0 || sumOf(k, sealed[:n]) != big.Uint32(sealed[n:]) {
		return "", false
	}
	return string(sealed[:n]), true
}
