package store

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"

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

// The keys of the bucket meta. Its values are sealed texts, but for the summary.
var (
	metaSchema  = []byte("schema")
	metaID      = []byte("id")
	metaCreated = []byte("created")
	metaWriter  = []byte("writer")
	metaSummary = []byte("summary")
)

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

type pieceHead struct {
	Format uint8
	UID    UID
	Tail   Mark
	Info   uint32 // CRC of the info value
}

type listed struct {
	pieceHead
	id PieceID
}

func decodeHead(k, v []byte) (h listed, ok bool) {
	rest, ok := decode(k, v, &h.pieceHead)
	if !ok || len(k) != 8 || len(rest) > 0 {
		return listed{}, false
	}
	h.id = PieceID(big.Uint64(k))
	return h, true
}

// The keys inside the bucket of a piece.
var (
	keyInfo = []byte("info")
	keyLog  = []byte("log")
)

type infoHead struct {
	Format uint8
	UID    UID
}

func decodeInfo(v []byte) (info []byte, uid UID, ok bool) {
	var head infoHead
	info, ok = decode(keyInfo, v, &head)
	return bytes.Clone(info), head.UID, ok
}

// summary is the record in `meta` that vouches for everything else.
type summary struct {
	Format    uint8
	Commit    uint64 // number of the transaction that wrote it
	Tallies   [len(tallied)]tally
	LastSeq   uint64 // of the last event saved in any piece
	LastPiece PieceID
	LastCRC   uint32
}

// tallied are the buckets the summary counts, and what it means when one is otherwise.
var tallied = [...]struct {
	bucket    []byte
	otherwise string
}{
	{bucketHeads, "the list of pieces is not the one written last"},
	{bucketSettings, "the settings are not the ones written last"},
	{bucketCharts, "the charts are not the ones written last"},
}

// Their places.
const (
	tallyHeads = iota
	tallySettings
	tallyCharts
)

type tally struct{ Count, Sum uint64 }

// tallyOf counts the entries of a tallied bucket; of a chart the name alone, which vouches
// for the rest. The length is mixed in, so that a byte cannot move from key to value.
func tallyOf(b *bbolt.Bucket, place int) (t tally) {
	c := b.Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		if place == tallyCharts {
			v = nil
		}
		t.Count++
		t.Sum += uint64(sumOf(k, v))<<16 + uint64(len(k))
	}
	return t
}

// Numbers are big-endian, so that keys in order of bytes are numbers in order.
var big = binary.BigEndian

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// valueFormat is the first byte of every value that has a head. There has been one.
const valueFormat = 1

func sumOf(key, body []byte) uint32 {
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, body)
}

func crcOf(sealed []byte) uint32 { return big.Uint32(sealed[len(sealed)-4:]) }

func key(n uint64) []byte { return big.AppendUint64(nil, n) }

// seal ends a value in the CRC-32C of its key and all before it.
func seal(key, body []byte) []byte {
	return big.AppendUint32(body[:len(body):len(body)], sumOf(key, body))
}

// unseal takes the checksum off; ok is false when it does not hold.
func unseal(key, sealed []byte) (body []byte, ok bool) {
	n := len(sealed) - 4
	if n < 0 || sumOf(key, sealed[:n]) != crcOf(sealed) {
		return nil, false
	}
	return sealed[:n:n], true
}

// encode seals a head, a struct of fixed size whose first byte is the format, and the rest.
func encode(key []byte, head any, rest []byte) []byte {
	body, _ := binary.Append(nil, big, head) // fails for what has no fixed size only
	return seal(key, append(body, rest...))
}

// decode reads into a head and gives the rest; ok is false where the checksum does not hold.
func decode(key, sealed []byte, head any) (rest []byte, ok bool) {
	body, ok := unseal(key, sealed)
	if !ok || len(body) == 0 || body[0] != valueFormat {
		return nil, false
	}
	n, err := binary.Decode(body, big, head)
	return body[n:], err == nil
}
