package store

import (
	"bytes"
	"io"
	"slices"
)

// walker examines the pages of a bucket before bbolt follows them. bbolt trusts
// its pages: a branch that leads back to itself sends it round for ever or
// overflows its stack, and a count or a length that is wrong takes it outside the
// file. The walker reads the file itself and believes nothing it finds there, so it can
// neither leave the file nor loop.
type walker struct {
	f     io.ReaderAt
	pages uint64
	freed []uint64          // pages that must not be in use; rising
	seen  []uint64          // one bit a page
	runs  map[uint64]uint64 // where the pages met on the way to a key belong to
	page  []byte            // where a page is read into; none as long as the file lies in memory
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

// walking says which pages of a tree are examined, and for what.
type walking struct {
	way   way  // the pages to go to; nil for all
	flat  bool // no entry may be a bucket: bbolt would not give it as a value
	again bool // the pages may have been reached before
}

// way chooses among the children of a branch those to go to, from one up to another not
// included.
type way func(children []element) (from, to int)

// toLast goes to the last key.
func toLast(children []element) (from, to int) { return len(children) - 1, len(children) }

// toward goes to where a key is or would be.
func toward(key []byte) way {
	return func(children []element) (from, to int) {
		at := childFor(children, key)
		return at, at + 1
	}
}

// from goes to where a key is or would be and to all that comes after.
func from(key []byte) way {
	return func(children []element) (from, to int) { return childFor(children, key), len(children) }
}

// childFor finds the child of a branch below which a key is or would be.
func childFor(children []element, key []byte) int {
	at, found := slices.BinarySearchFunc(children, key, func(e element, key []byte) int { return bytes.Compare(e.key, key) })
	if found {
		return at
	}
	return max(0, at-1)
}

// walk examines pages of the tree under a root.
func (w *walker) walk(root uint64, how walking) error { return w.step(root, span{}, maxDepth, how) }

// deep examines a tree and those of all buckets nested in it.
func (w *walker) deep(root uint64) error {
	var nested []uint64
	w.leaf = func(_ uint64, page []byte) error {
		nested = append(nested, nestedRoots(page)...)
		return nil
	}
	for next := []uint64{root}; len(next) > 0; next, nested = nested, nil {
		for _, root := range next {
			if err := w.walk(root, walking{}); err != nil {
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

// step examines a page and what lies below it.
func (w *walker) step(id uint64, keys span, depth int, how walking) error {
	page, err := readPage(w.f, id, w.pages, w.buffer())
	if err != nil {
		return err
	}
	switch {
	case !elementsFit(page):
		return damaged("page %d counts more entries than it can hold", id)
	case depth == 0:
		return damaged("page %d lies too deep: the pages lead round in a circle", id)
	case native.Uint16(page[8:]) == flagLeaf:
		return w.visitLeaf(id, page, keys, how)
	case native.Uint16(page[8:]) == flagBranch:
		return w.visitBranch(id, page, keys, depth, how)
	}
	return damaged("page %d is neither a branch nor a leaf", id)
}

// claim marks the pages of an entry, which was examined, as reached. It refuses free ones,
// and those reached a second time; on a way that may be gone again, those that belong to
// another entry.
func (w *walker) claim(id uint64, page []byte, again bool) error {
	for p := id; p < id+uint64(len(page)/pageSize); p++ {
		if _, found := slices.BinarySearch(w.freed, p); found {
			return usedAndFree(p)
		}
		if !w.mark(id, p, again) {
			return damaged("page %d is reached twice: the pages lead round in a circle", p)
		}
	}
	return nil
}

// mark marks a page of an entry and reports whether that may be.
func (w *walker) mark(id, p uint64, again bool) bool {
	if again {
		if w.runs == nil {
			w.runs = map[uint64]uint64{}
		}
		owner, met := w.runs[p]
		w.runs[p] = id
		return !met || owner == id
	}
	bit := uint64(1) << (p % 64)
	before := w.seen[p/64]
	w.seen[p/64] |= bit
	return before&bit == 0
}

// visitBranch goes down to the children of a branch that are chosen.
func (w *walker) visitBranch(id uint64, page []byte, keys span, depth int, how walking) error {
	if w.page != nil {
		page = bytes.Clone(page) // the buffer is used again below
	}
	children, err := childrenOf(id, page, keys)
	if err == nil {
		err = w.claim(id, page, how.again)
	}
	if err != nil {
		return err
	}
	from, to := 0, len(children)
	if how.way != nil {
		from, to = how.way(children)
	}
	for i := from; i < to; i++ {
		below := span{from: children[i].key, to: keys.to}
		if i+1 < len(children) {
			below.to = children[i+1].key
		}
		if err := w.step(children[i].child, below, depth-1, how); err != nil {
			return err
		}
	}
	return nil
}

// childrenOf reads the entries of a branch.
func childrenOf(id uint64, page []byte, keys span) ([]element, error) {
	children := make([]element, native.Uint16(page[10:]))
	if len(children) == 0 {
		return nil, damaged("page %d is a branch without children", id)
	}
	var last []byte
	used := 0
	for i := range children {
		e, end, ok := branchElement(page, i)
		if !ok {
			return nil, damaged("page %d has an entry outside itself", id)
		}
		if !inOrder(last, e.key, keys) {
			return nil, damaged("page %d is out of order", id)
		}
		children[i], last, used = e, e.key, max(used, end)
	}
	if !fills(page, used) {
		return nil, damaged("page %d %s", id, tooLong)
	}
	return children, nil
}

// visitLeaf examines the entries of a leaf.
func (w *walker) visitLeaf(id uint64, page []byte, keys span, how walking) error {
	if fault := leafFault(page, keys, how.flat); fault != "" {
		return damaged("page %d %s", id, fault)
	}
	if err := w.claim(id, page, how.again); err != nil || w.leaf == nil {
		return err
	}
	return w.leaf(id, page)
}
