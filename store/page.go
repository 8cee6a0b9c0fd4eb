package store

import (
	"bytes"
	"encoding/binary"
	"io"
)

// The file format underneath, as far as it must be understood to refuse a bad
// file before bbolt maps it: pages of 4 KiB, each headed by its own number (8
// bytes), flags (2), a count (2) and how many pages follow it as one (4). An entry has 16
// bytes behind that: of a leaf its flags, place, length of the key and of the value, of a
// branch place, length of the key and the child's number. Places count from the entry.
const (
	pageSize   = 4096
	pageHeader = 16
	entrySize  = 16
	flagBranch = 0x01
	flagLeaf   = 0x02
	flagFree   = 0x10
	flagBucket = 0x01 // of a leaf's entry: its value heads a nested bucket
)

var native = binary.NativeEndian

// page is the bytes of one, and of those that follow it as one.
type page []byte

func (p page) id() uint64    { return native.Uint64(p) }
func (p page) flags() uint16 { return native.Uint16(p[8:]) }
func (p page) count() int    { return int(native.Uint16(p[10:])) }
func (p page) more() uint64  { return uint64(native.Uint32(p[12:])) }

func readPage(f io.ReaderAt, id, pages uint64) (page, error) {
	if id < 2 || id >= pages {
		return nil, damaged("a page refers to page %d, which is not in the file", id)
	}
	p, err := pagesAt(f, id, 1)
	switch {
	case err != nil:
		return nil, err
	case p.id() != id:
		return nil, damaged("page %d does not carry its own number", id)
	case p.more() == 0:
		return p, nil
	case id+p.more() >= pages:
		return nil, damaged("page %d runs past the end of the file", id)
	}
	return pagesAt(f, id, p.more()+1)
}

func pagesAt(f io.ReaderAt, id, n uint64) (page, error) {
	p := make(page, n*pageSize)
	if _, err := f.ReadAt(p, int64(id)*pageSize); err != nil {
		return nil, damaged("page %d cannot be read", id).giving(err)
	}
	return p, nil
}

// element is one entry of a page: for a branch the child page, for a leaf the value.
type element struct {
	key, value []byte
	child      uint64
	bucket     bool
	end        int // where it ends in the page
}

// element reads entry i, which the page must have room for; ok is false where it leads outside.
func (p page) element(i int, leaf bool) (e element, ok bool) {
	at := pageHeader + entrySize*i
	entry := p[at:]
	number := func(n int) uint64 { return uint64(native.Uint32(entry[4*n:])) }
	from, keyLength, length := number(0), number(1), uint64(0)
	if leaf {
		e.bucket = number(0)&flagBucket != 0
		from, keyLength, length = number(1), number(2), number(3)
	} else {
		e.child = native.Uint64(entry[8:])
	}
	from += uint64(at)
	middle, end := from+keyLength, from+keyLength+length
	if end > uint64(len(p)) {
		return e, false
	}
	e.key, e.value, e.end = p[from:middle:middle], p[middle:end:end], int(end)
	return e, true
}

// span is the half-open range of keys a page may hold; nil is no bound.
type span struct{ from, to []byte }

// holds reports whether a key may follow the last one on its page, nil where it is the first.
func (s span) holds(last, key []byte) bool {
	if s.to != nil && bytes.Compare(key, s.to) >= 0 {
		return false
	}
	if last == nil {
		return bytes.Compare(key, s.from) >= 0
	}
	return bytes.Compare(last, key) < 0
}

// elements reads all entries of a page and says what is wrong with it, or nothing: one
// outside, one out of order, a small bucket kept in it that cannot be read, or a length
// that goes beyond what is filled. bbolt takes no more pages than it fills, and what a wrong
// number adds belongs to others.
func (p page) elements(keys span) (all []element, fault string) {
	if p.count() > (len(p)-pageHeader)/entrySize {
		return nil, "counts more entries than it can hold"
	}
	all = make([]element, p.count())
	var last []byte
	used := 0
	for i := range all {
		e, ok := p.element(i, p.flags() == flagLeaf)
		switch {
		case !ok:
			return nil, "has an entry outside itself"
		case !keys.holds(last, e.key):
			return nil, "is out of order"
		case e.bucket && !soundBucketValue(e.value):
			return nil, "holds a bucket that cannot be read"
		}
		all[i], last, used = e, e.key, max(used, e.end)
	}
	if len(p) > pageSize && used <= len(p)-pageSize {
		return nil, "says that it is longer than what it holds"
	}
	return all, ""
}

// root is the page a nested bucket begins on; 0 where its only page is kept in the value.
func (e element) root() uint64 { return native.Uint64(e.value) }

// soundBucketValue examines a nested bucket's header, and its page if that is kept in the value.
func soundBucketValue(value []byte) bool {
	if len(value) < pageHeader {
		return false
	}
	if native.Uint64(value) != 0 {
		return true
	}
	inside := page(value[pageHeader:])
	if len(inside) < pageHeader || inside.flags() != flagLeaf {
		return false
	}
	elements, fault := inside.elements(span{})
	for _, e := range elements {
		if e.bucket {
			return false
		}
	}
	return fault == ""
}
