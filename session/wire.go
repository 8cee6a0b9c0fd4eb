package session

import (
	"encoding/binary"
	"math"
	"unicode/utf8"
)

// Every number is an unsigned varint of the fewest bytes that hold it; text is its
// length in bytes and then UTF-8; several yes-or-no facts share one number. Each
// value has one encoding only, so reading and writing are inverse both ways.

// maxInt is the largest number a field may hold: it fits an int everywhere.
const maxInt = math.MaxInt32

// reader takes values from the front of an event's bytes. After the first fault
// all it gives is zero; end reports that fault.
type reader struct {
	b     []byte
	at    int
	fault string // empty while all is well
	where int    // offset of the fault
}

// fail keeps the first fault and makes the rest of the bytes unreadable.
func (r *reader) fail(fault string) {
	if r.fault == "" {
		r.fault, r.where = fault, r.at
	}
	r.b = r.b[:r.at]
}

// end reports the fault met, or bytes left over.
func (r *reader) end(k Kind) error {
	if r.fault == "" && r.at < len(r.b) {
		r.fail("bytes are left over")
	}
	if r.fault == "" {
		return nil
	}
	return &MalformedError{Kind: k, Offset: r.where, Fault: r.fault}
}

func (r *reader) uvarint() uint64 {
	v, n := binary.Uvarint(r.b[r.at:])
	switch {
	case n == 0:
		r.fail("it ends too soon")
	case n < 0:
		r.fail("a number is too large")
	case n > 1 && r.b[r.at+n-1] == 0:
		r.fail("a number has a needless byte")
	default:
		r.at += n
		return v
	}
	return 0
}

// int reads a number from 0 to maxInt.
func (r *reader) int() int {
	v := r.uvarint()
	if v > maxInt {
		r.fail("a number is too large")
		return 0
	}
	return int(v)
}

// count reads how many items follow, each of at least size bytes.
func (r *reader) count(size int) int {
	n := r.uvarint()
	if n > uint64((len(r.b)-r.at)/size) {
		r.fail("it ends too soon")
		return 0
	}
	return int(n)
}

// flags reads yes-or-no facts, of which this version knows the lowest n.
func (r *reader) flags(n int) uint64 {
	v := r.uvarint()
	if v>>n != 0 {
		r.fail("an unknown flag is set")
		return 0
	}
	return v
}

func (r *reader) text() string {
	n := r.count(1)
	s := r.b[r.at : r.at+n]
	if !utf8.Valid(s) {
		r.fail("text is not UTF-8")
		return ""
	}
	r.at += n
	return string(s)
}

// symbol reads a character, 0 standing for none.
func (r *reader) symbol() rune {
	v := r.uvarint()
	if v > utf8.MaxRune || !utf8.ValidRune(rune(v)) {
		r.fail("a symbol is not a character")
		return 0
	}
	return rune(v)
}

func (r *reader) hash() (h [32]byte) {
	if len(r.b)-r.at < len(h) {
		r.fail("it ends too soon")
		return h
	}
	r.at += copy(h[:], r.b[r.at:])
	return h
}

func appendInt(b []byte, v int) []byte { return binary.AppendUvarint(b, uint64(v)) }

func appendText(b []byte, s string) []byte { return append(appendInt(b, len(s)), s...) }

func appendSymbol(b []byte, s rune) []byte { return appendInt(b, int(s)) }

// appendFlags writes facts as one number, the first as its lowest bit.
func appendFlags(b []byte, facts ...bool) []byte {
	v := uint64(0)
	for i, yes := range facts {
		if yes {
			v |= 1 << i
		}
	}
	return binary.AppendUvarint(b, v)
}

// appendSeq writes the number of an event, or the id of a piece.
func appendSeq(b []byte, seq uint64) []byte { return binary.AppendUvarint(b, seq) }
