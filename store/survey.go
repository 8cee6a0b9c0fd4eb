package store

import (
	"io"
	"maps"
	"slices"
)

// bbolt trusts its pages: a branch that leads back to itself sends it round for ever or
// overflows its stack, and a count or a length that is wrong takes it outside the file. So
// when a file is opened all pages in use are walked once, before bbolt follows any. The walk
// reads the file itself and believes nothing it finds there: it goes to no page twice, and
// so can neither leave the file nor loop. It takes about 1 µs a page.
//
// Each bucket with pages of its own is a tree under a root page. What is wrong with a tree
// is kept under its root, and refused where someone asks for that bucket: so one damaged
// piece does not stop the work on others.

// survey is what the walk found.
type survey struct {
	file   io.ReaderAt
	in     *headers
	owners map[uint64]uint64 // page in use -> root of its tree
	faults map[uint64]error  // by the root of the tree
	shared error             // a page that two trees lead to
	freed  error             // a page in use that the free list names
}

// surveyed walks the pages of a file.
func surveyed(f io.ReaderAt, in *headers) *survey {
	s := &survey{file: f, in: in, owners: map[uint64]uint64{}, faults: map[uint64]error{}}
	for next := []uint64{in.root}; len(next) > 0; next = next[1:] {
		root := next[0]
		if _, known := s.faults[root]; known {
			s.shared = damaged("page %d is the root of two buckets", root)
			continue
		}
		nested, fault := s.step(root, root, span{})
		s.faults[root] = fault
		next = append(next, nested...)
	}
	return s
}

// first is the first fault there is, in the order of pages.
func (s *survey) first() error {
	for _, root := range slices.Sorted(maps.Keys(s.faults)) {
		if s.faults[root] != nil {
			return s.faults[root]
		}
	}
	if s.shared != nil {
		return s.shared
	}
	return s.freed
}

// step examines a page of a tree and what lies below it, and lists the roots of the buckets
// nested there.
func (s *survey) step(root, id uint64, keys span) (nested []uint64, err error) {
	page, err := readPage(s.file, id, s.in.pages)
	if err != nil {
		return nil, err
	}
	read := leafElement
	switch native.Uint16(page[8:]) {
	case flagLeaf:
	case flagBranch:
		read = branchElement
	default:
		return nil, damaged("page %d is neither a branch nor a leaf", id)
	}
	elements, fault := elementsOf(page, keys, read)
	if fault != "" {
		return nil, damaged("page %d %s", id, fault)
	}
	if err := s.claim(root, id, uint64(len(page)/pageSize)); err != nil {
		return nil, err
	}
	if native.Uint16(page[8:]) == flagLeaf {
		return nestedRoots(elements), nil
	}
	return s.below(root, id, elements, keys)
}

// nestedRoots lists the root pages of the buckets in a leaf; those kept inside it have none.
func nestedRoots(elements []element) (roots []uint64) {
	for _, e := range elements {
		if e.bucket && native.Uint64(e.value) != 0 {
			roots = append(roots, native.Uint64(e.value))
		}
	}
	return roots
}

// below goes down to the children of a branch. One that cannot be trusted makes the tree
// so, and the others are walked all the same.
func (s *survey) below(root, id uint64, children []element, keys span) (nested []uint64, err error) {
	if len(children) == 0 {
		return nil, damaged("page %d is a branch without children", id)
	}
	for i, child := range children {
		within := span{from: child.key, to: keys.to}
		if i+1 < len(children) {
			within.to = children[i+1].key
		}
		more, fault := s.step(root, child.child, within)
		nested = append(nested, more...)
		if err == nil {
			err = fault
		}
	}
	return nested, err
}

// claim marks n pages as in use by a tree. One that the same tree has reached before is a
// fault of it.
func (s *survey) claim(root, id, n uint64) error {
	for p := id; p < id+n; p++ {
		if _, free := slices.BinarySearch(s.in.freed, p); free && s.freed == nil {
			s.freed = usedAndFree(p)
		}
		switch owner, met := s.owners[p]; {
		case met && owner == root:
			return damaged("page %d is reached twice: the pages lead round in a circle", p)
		case met:
			s.shared = damaged("page %d belongs to two buckets", p)
		}
		s.owners[p] = root
	}
	return nil
}
