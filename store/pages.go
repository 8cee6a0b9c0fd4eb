package store

import (
	"bytes"
	"io"
	"slices"
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

// branchElement reads entry i of a branch; ok is false when it reaches outside.
func branchElement(page []byte, i int) (e element, ok bool) {
	at := pageHeader + pageHeader*i
	head := page[at:]
	start := uint64(at) + uint64(native.Uint32(head))
	end := start + uint64(native.Uint32(head[4:]))
	if end > uint64(len(page)) {
		return e, false
	}
	return element{key: page[start:end:end], child: native.Uint64(head[8:])}, true
}

// walker examines the pages of a bucket before bbolt follows them. bbolt trusts
// its pages: a branch that leads back to itself sends it round for ever or
// overflows its stack, and a count or a length that is wrong takes it outside the
// file. The walker reads the file itself and believes nothing it finds there, so it can
// neither leave the file nor loop: every page may be reached once.
type walker struct {
	f     io.ReaderAt
	pages uint64
	freed []uint64 // pages that must not be in use; rising
	seen  []uint64 // one bit a page
	page  []byte   // where a page is read into; none as long as the file lies in memory
	// leaf, when set, is given every leaf with the number of its page; the bytes
	// are good for that call only.
	leaf func(id uint64, page []byte) error
}

// newWalker starts a walk over a file of so many pages.
func newWalker(f io.ReaderAt, l *look) *walker {
	return &walker{f: f, pages: l.pages, freed: l.freed, seen: make([]uint64, l.pages/64+1)}
}

// buffer is where a page is to be read into, nil where it need not be.
func (w *walker) buffer() []byte {
	if _, inMemory := w.f.(mapped); !inMemory && w.page == nil {
		w.page = make([]byte, pageSize)
	}
	return w.page
}

// deep examines a tree and those of all buckets nested in it.
func (w *walker) deep(root uint64) error {
	var nested []uint64
	w.leaf = func(_ uint64, page []byte) error {
		nested = append(nested, nestedRoots(page)...)
		return nil
	}
	for next := []uint64{root}; len(next) > 0; next, nested = nested, nil {
		for _, root := range next {
			if err := w.walk(root); err != nil {
				return err
			}
		}
	}
	return nil
}

// nestedRoots lists the root pages of the buckets in a leaf that has been
// examined; those kept inside it have none.
func nestedRoots(page []byte) []uint64 {
	var roots []uint64
	for i := range int(native.Uint16(page[10:])) {
		if native.Uint32(page[pageHeader+pageHeader*i:])&flagBucket == 0 {
			continue
		}
		if e, _ := leafElement(page, i); native.Uint64(e.value) != 0 {
			roots = append(roots, native.Uint64(e.value))
		}
	}
	return roots
}

// span is the half-open range of keys a page may hold; nil is no bound.
type span struct{ from, to []byte }

// walk examines every page of the tree under a root.
func (w *walker) walk(root uint64) error { return w.step(root, span{}, maxDepth, everywhere) }

// edge examines only the pages on the way to the last key: all that an append or
// a look at the end touches.
func (w *walker) edge(root uint64) error { return w.step(root, span{}, maxDepth, toLast) }

// toward examines only the pages on the way to where a key is or would be: all that a
// look at it, or putting it there, touches.
func (w *walker) toward(root uint64, key []byte) error {
	return w.step(root, span{}, maxDepth, func(children []element) (from, to int) {
		at, found := slices.BinarySearchFunc(children, key, func(e element, key []byte) int { return bytes.Compare(e.key, key) })
		if !found {
			at = max(0, at-1)
		}
		return at, at + 1
	})
}

// way chooses among the children of a branch those to go to, from one up to another not
// included. A nil way goes to all.
type way func(children []element) (from, to int)

var everywhere way

func toLast(children []element) (from, to int) { return len(children) - 1, len(children) }

// step examines a page and what lies below it.
func (w *walker) step(id uint64, keys span, depth int, chosen way) error {
	page, err := readPage(w.f, id, w.pages, w.buffer())
	if err != nil {
		return err
	}
	if err := w.claim(id, page, chosen != nil); err != nil {
		return err
	}
	if depth == 0 {
		return damaged("page %d lies too deep: the pages lead round in a circle", id)
	}
	switch native.Uint16(page[8:]) {
	case flagLeaf:
		return w.visitLeaf(id, page, keys)
	case flagBranch:
		return w.visitBranch(id, page, keys, depth, chosen)
	}
	return damaged("page %d is neither a branch nor a leaf", id)
}

// claim marks the pages of an entry as reached and refuses a second time, but for a way to
// one key, which may be gone again.
func (w *walker) claim(id uint64, page []byte, again bool) error {
	if !elementsFit(page) {
		return damaged("page %d counts more entries than it can hold", id)
	}
	for p := id; p < id+uint64(len(page)/pageSize); p++ {
		if _, found := slices.BinarySearch(w.freed, p); found {
			return usedAndFree(p)
		}
		bit := uint64(1) << (p % 64)
		if w.seen[p/64]&bit != 0 && !again {
			return damaged("page %d is reached twice: the pages lead round in a circle", p)
		}
		if !again {
			w.seen[p/64] |= bit
		}
	}
	return nil
}

// visitBranch goes down to the children of a branch that are chosen.
func (w *walker) visitBranch(id uint64, page []byte, keys span, depth int, chosen way) error {
	n := int(native.Uint16(page[10:]))
	if n == 0 {
		return damaged("page %d is a branch without children", id)
	}
	page = bytes.Clone(page) // the buffer is used again below
	children := make([]element, n)
	var last []byte
	for i := range children {
		e, ok := branchElement(page, i)
		if !ok {
			return damaged("page %d has an entry outside itself", id)
		}
		if !inOrder(last, e.key, keys) {
			return damaged("page %d is out of order", id)
		}
		children[i], last = e, e.key
	}
	from, to := 0, n
	if chosen != nil {
		from, to = chosen(children)
	}
	for i := from; i < to; i++ {
		below := span{from: children[i].key, to: keys.to}
		if i+1 < n {
			below.to = children[i+1].key
		}
		if err := w.step(children[i].child, below, depth-1, chosen); err != nil {
			return err
		}
	}
	return nil
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

// visitLeaf examines the entries of a leaf.
func (w *walker) visitLeaf(id uint64, page []byte, keys span) error {
	if fault := leafFault(page, keys); fault != "" {
		return damaged("page %d %s", id, fault)
	}
	if w.leaf == nil {
		return nil
	}
	return w.leaf(id, page)
}

// leafFault examines the entries of a leaf, those of small buckets kept inside it
// too, and says what is wrong with the page, or nothing. Thousands are examined before a
// change, so they are taken one by one without a call for each.
func leafFault(page []byte, keys span) string {
	var last []byte
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
		if native.Uint32(head)&flagBucket != 0 && !soundBucketValue(page[middle:end]) {
			return "holds a bucket that cannot be read"
		}
		last = key
	}
	if keys.to != nil && last != nil && bytes.Compare(last, keys.to) >= 0 {
		return "is out of order"
	}
	return ""
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
	if len(inside) < pageHeader || native.Uint16(inside[8:]) != flagLeaf || !elementsFit(inside) {
		return false
	}
	for i := range int(native.Uint16(inside[10:])) {
		if e, ok := leafElement(inside, i); !ok || e.bucket {
			return false
		}
	}
	return leafFault(inside, span{}) == ""
}
