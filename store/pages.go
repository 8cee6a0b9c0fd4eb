package store

import (
	"bytes"
	"io"
)

// maxDepth is more levels than any tree of pages can have: with two children a
// branch, 32 levels outnumber every file bbolt can hold.
const maxDepth = 32

// readPage reads a page and those that follow it as one. It refuses a page that
// does not carry its own number or runs past the end. A page that stands alone is
// read into the buffer, if there is one; of a file in memory nothing is copied.
func readPage(f io.ReaderAt, id, pages uint64, buffer []byte) ([]byte, error) {
	if id < 2 || id >= pages {
		return nil, damaged("a page refers to page %d, which is not in the file", id)
	}
	page, err := pagesAt(f, id, 1, buffer)
	if err != nil {
		return nil, err
	}
	if got := native.Uint64(page); got != id {
		return nil, damaged("page %d does not carry its own number", id)
	}
	more := uint64(native.Uint32(page[12:]))
	if more == 0 {
		return page, nil
	}
	if id+more >= pages {
		return nil, damaged("page %d runs past the end of the file", id)
	}
	return pagesAt(f, id, more+1, nil)
}

// pagesAt reads n pages from the given one on, into the buffer where they fit there.
func pagesAt(f io.ReaderAt, id, n uint64, buffer []byte) ([]byte, error) {
	if m, ok := f.(mapped); ok {
		return m.at(id, n)
	}
	if uint64(len(buffer)) < n*pageSize {
		buffer = make([]byte, n*pageSize)
	}
	if _, err := f.ReadAt(buffer, int64(id)*pageSize); err != nil {
		return nil, damaged("page %d cannot be read (%v)", id, err)
	}
	return buffer, nil
}

// element is one entry of a page: for a branch the child page, for a leaf the
// value.
type element struct {
	key, value []byte
	child      uint64
	bucket     bool
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
	e = element{key: page[start:middle:middle], value: page[middle:end:end]}
	e.bucket = native.Uint32(head)&flagBucket != 0
	return e, true
}

// branchElement reads entry i of a branch and where it ends; ok is false when it reaches
// outside.
func branchElement(page []byte, i int) (e element, end int, ok bool) {
	at := pageHeader + pageHeader*i
	head := page[at:]
	start := uint64(at) + uint64(native.Uint32(head))
	after := start + uint64(native.Uint32(head[4:]))
	if after > uint64(len(page)) {
		return e, 0, false
	}
	return element{key: page[start:after:after], child: native.Uint64(head[8:])}, int(after), true
}

// inOrder reports whether a key may follow the one before it on its page, nil where it
// is the first.
func inOrder(last, key []byte, keys span) bool {
	if keys.to != nil && bytes.Compare(key, keys.to) >= 0 {
		return false
	}
	if last == nil {
		return keys.from == nil || bytes.Compare(key, keys.from) >= 0
	}
	return bytes.Compare(last, key) < 0
}

// leafFault examines the entries of a leaf, those of small buckets kept inside it
// too, and says what is wrong with the page, or nothing. Thousands are examined before a
// change, so they are taken one by one without a call for each.
func leafFault(page []byte, keys span, flat bool) string {
	var last []byte
	used := 0
	for i := range int(native.Uint16(page[10:])) {
		head := page[pageHeader+pageHeader*i:][:pageHeader]
		start := uint64(pageHeader+pageHeader*i) + uint64(native.Uint32(head[4:]))
		middle := start + uint64(native.Uint32(head[8:]))
		end := middle + uint64(native.Uint32(head[12:]))
		if end > uint64(len(page)) {
			return "has an entry outside itself"
		}
		key := page[start:middle]
		if i > 0 && bytes.Compare(last, key) >= 0 || i == 0 && bytes.Compare(key, keys.from) < 0 {
			return "is out of order"
		}
		if native.Uint32(head)&flagBucket != 0 && (flat || !soundBucketValue(page[middle:end])) {
			return "holds a bucket that cannot be read"
		}
		last, used = key, max(used, int(end))
	}
	switch {
	case keys.to != nil && last != nil && bytes.Compare(last, keys.to) >= 0:
		return "is out of order"
	case !fills(page, used):
		return tooLong
	}
	return ""
}

// fills reports whether what is used of a page, of several as one, reaches into the last of
// them: bbolt takes no more than it fills, and what a wrong number adds belongs to others.
func fills(page []byte, used int) bool { return used > len(page)-pageSize || len(page) <= pageSize }

// tooLong is what is wrong with a page that does not fill its length.
const tooLong = "says that it is longer than what it holds"

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
	if len(inside) < pageHeader || native.Uint16(inside[8:]) != flagLeaf || !elementsFit(inside) {
		return false
	}
	for i := range int(native.Uint16(inside[10:])) {
		if e, ok := leafElement(inside, i); !ok || e.bucket {
			return false
		}
	}
	return leafFault(inside, span{}, true) == ""
}
