package store

import (
	"encoding/binary"
	"hash/fnv"
	"io"
	"slices"
)

// The file format underneath, as far as it must be understood to refuse a bad
// file before bbolt maps it: pages of 4 KiB, each headed by its own number (8
// bytes), flags (2), a count (2) and how many pages follow it as one (4). Pages 0
// and 1 are the two headers, written in turn, each with its own checksum.
const (
	pageSize   = 4096
	pageHeader = 16
	metaMagic  = 0xED0CDAED
	metaFormat = 2
	metaSum    = pageHeader + 56 // where the checksum stands
	flagBranch = 0x01
	flagLeaf   = 0x02
	flagFree   = 0x10
	flagBucket = 0x01 // of a leaf element: its value heads a nested bucket
	noFreePage = ^uint64(0)
)

var native = binary.NativeEndian

// header is one header page that holds.
type header struct {
	root, free, pages, txid uint64
}

// decodeHeader reads a header page; ok is false when it cannot be trusted.
func decodeHeader(page []byte) (h header, ok bool) {
	m := page[pageHeader:]
	if native.Uint32(m) != metaMagic || native.Uint32(m[4:]) != metaFormat {
		return h, false
	}
	sum := fnv.New64a()
	sum.Write(page[pageHeader:metaSum])
	if sum.Sum64() != native.Uint64(page[metaSum:]) {
		return h, false
	}
	h = header{
		root:  native.Uint64(m[16:]),
		free:  native.Uint64(m[32:]),
		pages: native.Uint64(m[40:]),
		txid:  native.Uint64(m[48:]),
	}
	return h, native.Uint32(m[8:]) == pageSize
}

// headers is what can be known of a file from its two headers and its size.
type headers struct {
	header
	oneBad bool     // one of the two cannot be trusted
	freed  []uint64 // pages the free list names, rising; only when asked for
}

// readHeaders is the guard that stands before bbolt: both header pages are read, the
// file must be as long as the newer one says, and the free list, when it is going
// to be used, must fit its page and name each page once. Without it a short file
// ends in a fault, a bad newer header drops the last commit without a word, and
// a bad free list eats memory.
func readHeaders(f io.ReaderAt, size int64, wantFree bool) (*headers, error) {
	if size == 0 {
		return nil, damaged("the store is empty, as if its contents had been lost")
	}
	var pages [2 * pageSize]byte
	n, err := f.ReadAt(pages[:], 0)
	if err != nil && err != io.EOF {
		return nil, (&Error{Class: ClassUnusable, What: "the store cannot be read"}).giving(err)
	}
	a, okA := decodeHeader(pages[:pageSize])
	b, okB := decodeHeader(pages[pageSize:])
	l := &headers{header: a, oneBad: okA != okB || (okA && !mayStandTogether(a.txid, b.txid))}
	switch {
	case !okA && !okB:
		return nil, neitherHeader(f, pages[:n], size)
	case !okA || (okB && b.txid > a.txid):
		l.header = b
	}
	if err := l.measure(size); err != nil {
		return nil, err
	}
	if wantFree {
		l.freed, err = readFreeList(f, l.header)
	}
	return l, err
}

// mayStandTogether tells whether two headers can be of one file. A commit writes over the
// older one, so their numbers follow each other; but bbolt writes the two of a copy to the
// first place and the second whichever is the older, and the first commit after it may leave
// one number out.
func mayStandTogether(a, b uint64) bool {
	apart := max(a, b) - min(a, b)
	return apart == 1 || apart == 2
}

// measure holds the header against the size of the file.
func (l *headers) measure(size int64) error {
	if l.pages > uint64(size)/pageSize {
		return damaged("the store is cut short: %d bytes where its header promises %d", size, l.pages*pageSize)
	}
	if l.root < 2 || l.root >= l.pages || (l.free != noFreePage && (l.free < 2 || l.free >= l.pages)) {
		return damaged("the header names a page that is not there")
	}
	return nil
}

// neitherHeader tells a store that lost both headers from a file that never was
// one: pages further on that carry their own number speak for a store.
func neitherHeader(f io.ReaderAt, start []byte, size int64) error {
	if len(start) < 2*pageSize && hasMagic(start) {
		return damaged("the store is cut short: %d bytes, less than its two headers", size)
	}
	if hasMagic(start) || looksPaged(f, size) {
		return damaged("neither of the two headers can be trusted")
	}
	return &Error{Class: ClassForeign, What: "this is not a store of this program"}
}

// hasMagic reports whether either header page begins as one should.
func hasMagic(start []byte) bool {
	for at := pageHeader; at+4 <= len(start); at += pageSize {
		if native.Uint32(start[at:]) == metaMagic {
			return true
		}
	}
	return false
}

// looksPaged reports whether at least two of the first pages behind the headers
// carry their own number and a known flag.
func looksPaged(f io.ReaderAt, size int64) bool {
	found := 0
	var head [pageHeader]byte
	for id := int64(2); id < min(size/pageSize, 64); id++ {
		if _, err := f.ReadAt(head[:], id*pageSize); err != nil {
			break
		}
		flags := native.Uint16(head[8:])
		if native.Uint64(head[:]) == uint64(id) && (flags == flagBranch || flags == flagLeaf || flags == flagFree) {
			found++
		}
	}
	return found >= 2
}

// readFreeList reads the numbers of the free pages. A count of 0xFFFF means that
// the true count stands in the first place.
func readFreeList(f io.ReaderAt, h header) ([]uint64, error) {
	if h.free == noFreePage {
		return nil, damaged("the list of free pages is missing")
	}
	page, err := readPage(f, h.free, h.pages)
	if err != nil {
		return nil, err
	}
	if native.Uint16(page[8:]) != flagFree {
		return nil, damaged("page %d should list the free pages and does not", h.free)
	}
	count, body := uint64(native.Uint16(page[10:])), page[pageHeader:]
	if count == 0xFFFF {
		count, body = native.Uint64(body), body[8:]
	}
	if count > uint64(len(body))/8 {
		return nil, damaged("the list of free pages on page %d is longer than its page", h.free)
	}
	freed := make([]uint64, count)
	for i := range freed {
		freed[i] = native.Uint64(body[8*i:])
	}
	return freed, soundFreeList(freed, h)
}

// soundFreeList requires rising page numbers within the file.
func soundFreeList(freed []uint64, h header) error {
	for i, id := range freed {
		if id < 2 || id >= h.pages || (i > 0 && freed[i-1] >= id) {
			return damaged("the list of free pages on page %d is out of order", h.free)
		}
	}
	if _, found := slices.BinarySearch(freed, h.free); found {
		return damaged("the list of free pages on page %d names itself", h.free)
	}
	if _, found := slices.BinarySearch(freed, h.root); found {
		return usedAndFree(h.root)
	}
	return nil
}
