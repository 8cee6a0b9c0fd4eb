package store

import (
	"bytes"
	"io"
)

// readPage reads a page and those that follow it as one. It refuses a page that
// does not carry its own number or runs past the end.
func readPage(f io.ReaderAt, id, pages uint64) ([]byte, error) {
	if id < 2 || id >= pages {
		return nil, damaged("a page refers to page %d, which is not in the file", id)
	}
	page, err := pagesAt(f, id, 1)
	if err != nil {
		return nil, err
	}
	if native.Uint64(page) != id {
		return nil, damaged("page %d does not carry its own number", id)
	}
	more := uint64(native.Uint32(page[12:]))
	if more == 0 {
		return page, nil
	}
	if id+more >= pages {
		return nil, damaged("page %d runs past the end of the file", id)
	}
	return pagesAt(f, id, more+1)
}

// pagesAt reads n pages from the given one on.
func pagesAt(f io.ReaderAt, id, n uint64) ([]byte, error) {
	pages := make([]byte, n*pageSize)
	if _, err := f.ReadAt(pages, int64(id)*pageSize); err != nil {
		return nil, damaged("page %d cannot be read", id).giving(err)
	}
	return pages, nil
}

// element is one entry of a page: for a branch the child page, for a leaf the
// value.
type element struct {
	key, value []byte
	child      uint64
	bucket     bool
	end        int // where it ends in the page
}

// elementsFit reports whether the count of a page fits its size.
func elementsFit(page []byte) bool {
	return pageHeader+pageHeader*int(native.Uint16(page[10:])) <= len(page)
}

// leafElement reads entry i of a leaf; ok is false when it reaches outside.
func leafElement(page []byte, i int) (e element, ok bool) {
	at := pageHeader + pageHeader*i
	head := page[at:]
	start := uint64(at) + uint64(native.Uint32(head[4:]))
	middle := start + uint64(native.Uint32(head[8:]))
	end := middle + uint64(native.Uint32(head[12:]))
	if end > uint64(len(page)) {
		return e, false
	}
	e = element{key: page[start:middle:middle], value: page[middle:end:end], end: int(end)}
	e.bucket = native.Uint32(head)&flagBucket != 0
	return e, true
}

// branchElement reads entry i of a branch; ok is false when it reaches outside.
func branchElement(page []byte, i int) (e element, ok bool) {
	at := pageHeader + pageHeader*i
	head := page[at:]
	start := uint64(at) + uint64(native.Uint32(head))
	end := start + uint64(native.Uint32(head[4:]))
	if end > uint64(len(page)) {
		return e, false
	}
	return element{key: page[start:end:end], child: native.Uint64(head[8:]), end: int(end)}, true
}

// span is the half-open range of keys a page may hold; nil is no bound.
type span struct{ from, to []byte }

// holds reports whether a key may follow the one before it on its page, nil where it
// is the first.
func (s span) holds(last, key []byte) bool {
	if s.to != nil && bytes.Compare(key, s.to) >= 0 {
		return false
	}
	if last == nil {
		return bytes.Compare(key, s.from) >= 0
	}
	return bytes.Compare(last, key) < 0
}

// elementsOf reads all entries of a page and says what is wrong with it, or nothing: one
// outside, one out of order, a small bucket kept in it that cannot be read, or a length
// that goes beyond what is filled. bbolt takes no more pages than it fills, and what a wrong
// number adds belongs to others.
func elementsOf(page []byte, keys span, read func([]byte, int) (element, bool)) (all []element, fault string) {
	if !elementsFit(page) {
		return nil, "counts more entries than it can hold"
	}
	all = make([]element, native.Uint16(page[10:]))
	var last []byte
	used := 0
	for i := range all {
		e, ok := read(page, i)
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
	if len(page) > pageSize && used <= len(page)-pageSize {
		return nil, "says that it is longer than what it holds"
	}
	return all, ""
}

// soundBucketValue examines a nested bucket's header, and its only page when that
// is kept in the value.
func soundBucketValue(value []byte) bool {
	if len(value) < pageHeader {
		return false
	}
	if native.Uint64(value) != 0 {
		return true
	}
	inside := value[pageHeader:]
	if len(inside) < pageHeader || native.Uint16(inside[8:]) != flagLeaf {
		return false
	}
	elements, fault := elementsOf(inside, span{}, leafElement)
	for _, e := range elements {
		if e.bucket {
			return false
		}
	}
	return fault == ""
}
