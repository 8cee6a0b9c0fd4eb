package session

import (
	"encoding/binary"
	"math"
)

// table is a list of values of any lengths in bytes: one behind another, then where each
// of them ends, four bytes a value. So one of hundreds can be had without reading those
// before it.
type table struct {
	b, ends []byte
	n       int // values
}

// appendTable writes n values; one appends the value of an index.
func appendTable(b []byte, n int, one func(b []byte, i int) []byte) []byte {
	start := len(b)
	ends := make([]byte, 0, 4*n)
	for i := range n {
		b = one(b, i)
		ends = binary.LittleEndian.AppendUint32(ends, uint32(min(len(b)-start, math.MaxUint32)))
	}
	return append(b, ends...)
}

// readTable takes n values from b; ok is false where they do not fill it.
func readTable(b []byte, n int) (t table, ok bool) {
	if n > len(b)/4 {
		return t, false
	}
	ends := len(b) - 4*n
	t = table{b: b[:ends], ends: b[ends:], n: n}
	last := 0
	for i := range n {
		end := t.end(i)
		if end < last || end > len(t.b) {
			return t, false
		}
		last = end
	}
	return t, last == len(t.b)
}

// end is where a value ends and the next begins.
func (t *table) end(i int) int { return int(binary.LittleEndian.Uint32(t.ends[4*i:])) }

// at gives the value of an index below n.
func (t *table) at(i int) []byte {
	from := 0
	if i > 0 {
		from = t.end(i - 1)
	}
	return t.b[from:t.end(i):t.end(i)]
}
