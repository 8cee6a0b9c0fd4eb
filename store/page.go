package store

import (
	"bytes"
	"encoding/binary"
	"hash/fnv"
	"io"
	"io/fs"
	"os"
	"slices"
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
	return fault == "" && !slices.ContainsFunc(elements, func(e element) bool { return e.bucket })
}

// Pages 0 and 1 are the two headers of the file, written in turn, each with its own checksum.
const (
	metaMagic  = 0xED0CDAED
	metaFormat = 2
	metaSum    = 56 // where the checksum stands in it
	noFreePage = ^uint64(0)
)

// header is a header page as bbolt lays it out.
type header struct {
	Magic, Format, PageSize, Flags           uint32
	Root, Sequence, Free, Pages, Commit, Sum uint64
}

// decodeHeader reads a header page; ok is false when it cannot be trusted.
func decodeHeader(p page) (h header, ok bool) {
	body := p[pageHeader:]
	_, _ = binary.Decode(body, native, &h) // a page is long enough
	sum := fnv.New64a()
	sum.Write(body[:metaSum])
	return h, h.Magic == metaMagic && h.Format == metaFormat && h.PageSize == pageSize && h.Sum == sum.Sum64()
}

type headers struct {
	header
	bytes  int64
	oneBad bool     // one of the two cannot be trusted
	list   uint64   // how many pages the free list takes
	freed  []uint64 // pages it names, rising
	// freeFault is what is wrong with the free list: reads do without it.
	freeFault error
}

// readHeaders is the guard that stands before bbolt: both header pages are read, the file must be
// as long as the newer one says, and before a change the free list must fit its page and name
// each page once. Without it a short file ends in a fault, a bad newer header drops the last
// commit without a word, and a bad free list eats memory.
func readHeaders(f *os.File, write bool) (*headers, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if info.Size() == 0 {
		return nil, damaged("the store is empty, as if its contents had been lost")
	}
	var pages [2 * pageSize]byte
	if _, err := f.ReadAt(pages[:], 0); err != nil && err != io.EOF {
		return nil, problem(ClassUnusable, "the store cannot be read").giving(err)
	}
	first, second := page(pages[:pageSize]), page(pages[pageSize:])
	a, okA := decodeHeader(first)
	b, okB := decodeHeader(second)
	h := &headers{header: a, bytes: info.Size(), oneBad: okA != okB || (okA && !mayStandTogether(a.Commit, b.Commit))}
	h.oneBad = h.oneBad || first.id() != 0 || second.id() != 1 // which no checksum holds
	switch {
	case !okA && !okB:
		return nil, neitherHeader(f, a.Magic == metaMagic || b.Magic == metaMagic, h.bytes)
	case !okA || (okB && b.Commit > a.Commit):
		h.header = b
	}
	if err := h.measure(); err != nil {
		return nil, err
	}
	if h.freeFault = h.readFreeList(f); h.freeFault != nil && write {
		return nil, h.freeFault
	}
	return h, nil
}

// headed is a file and the number of its last commit, 0 where no header can be trusted.
func headed(path string) (file fs.FileInfo, commit uint64, err error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, 0, err
	}
	defer f.Close()
	if h, bad := readHeaders(f, false); bad == nil {
		commit = h.Commit
	}
	file, err = f.Stat()
	return file, commit, err
}

// mayStandTogether tells whether two headers can be of one file. A commit writes over the older
// one, so their numbers follow each other; but bbolt writes the two of a copy to the first place
// and the second whichever is the older, and the first commit after it may leave one number out.
func mayStandTogether(a, b uint64) bool {
	apart := max(a, b) - min(a, b)
	return apart == 1 || apart == 2
}

func (h *headers) measure() error {
	if h.Pages > uint64(h.bytes)/pageSize {
		return damaged("the store is cut short: %d bytes where its header promises %d", h.bytes, h.Pages*pageSize)
	}
	if h.Root < 2 || h.Root >= h.Pages || (h.Free != noFreePage && (h.Free < 2 || h.Free >= h.Pages)) {
		return damaged("the header names a page that is not there")
	}
	return nil
}

// neitherHeader tells a store that lost both headers, by later pages that carry their number, from another file.
func neitherHeader(f io.ReaderAt, magic bool, size int64) error {
	if magic && size < 2*pageSize {
		return damaged("the store is cut short: %d bytes, less than its two headers", size)
	}
	found := 0
	pages := uint64(size / pageSize)
	for id := uint64(2); id < min(pages, 64); id++ {
		if p, err := readPage(f, id, pages); err == nil && slices.Contains([]uint16{flagBranch, flagLeaf, flagFree}, p.flags()) {
			found++
		}
	}
	if magic || found >= 2 {
		return damaged("neither of the two headers can be trusted")
	}
	return problem(ClassForeign, notAStore)
}

// readFreeList reads the free pages; a count of 0xFFFF means that the true one stands in the first place.
func (h *headers) readFreeList(f io.ReaderAt) error {
	if h.Free == noFreePage {
		return damaged("the list of free pages is missing")
	}
	p, err := readPage(f, h.Free, h.Pages)
	if err != nil {
		return err
	}
	if p.flags() != flagFree {
		return damaged("page %d should list the free pages and does not", h.Free)
	}
	count, body := uint64(p.count()), p[pageHeader:]
	if count == 0xFFFF {
		count, body = native.Uint64(body), body[8:]
	}
	if count > uint64(len(body))/8 {
		return damaged("the list of free pages on page %d is longer than its page", h.Free)
	}
	freed := make([]uint64, count)
	for i := range freed {
		freed[i] = native.Uint64(body[8*i:])
		if freed[i] < 2 || freed[i] >= h.Pages || (i > 0 && freed[i-1] >= freed[i]) {
			return damaged("the list of free pages on page %d is out of order", h.Free)
		}
	}
	if _, found := slices.BinarySearch(freed, h.Free); found {
		return damaged("the list of free pages on page %d names itself", h.Free)
	}
	h.list, h.freed = uint64(len(p)/pageSize), freed
	return nil
}
