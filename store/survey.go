package store

import (
	"cmp"
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

type survey struct {
	file   io.ReaderAt
	in     *headers
	used   map[uint64]bool  // pages
	roots  []uint64         // of the trees found so far
	faults map[uint64]error // by the root of the tree
	freed  error            // a page in use that the free list names
}

func surveyed(f io.ReaderAt, in *headers) *survey {
	s := &survey{file: f, in: in, used: map[uint64]bool{}, roots: []uint64{in.Root}, faults: map[uint64]error{}}
	_ = s.claim(in.Free, in.list) // whole pages, of which none is used yet
	for i := 0; i < len(s.roots); i++ {
		s.faults[s.roots[i]] = s.step(s.roots[i], span{})
	}
	return s
}

// first is the first fault there is, in the order of pages; of a page that no tree has and the
// free list does not name, last.
func (s *survey) first() error {
	for _, root := range slices.Sorted(maps.Keys(s.faults)) {
		if s.faults[root] != nil {
			return s.faults[root]
		}
	}
	return cmp.Or(s.freed, s.in.freeFault, s.everyPage())
}

// step examines a page of a tree and what lies below it, also beside a child that is at fault, and
// notes the roots of the buckets nested there.
func (s *survey) step(id uint64, keys span) error {
	p, err := readPage(s.file, id, s.in.Pages)
	if err != nil {
		return err
	}
	leaf := p.flags() == flagLeaf
	if !leaf && p.flags() != flagBranch {
		return damaged("page %d is neither a branch nor a leaf", id)
	}
	elements, fault := p.elements(keys)
	if fault != "" {
		return damaged("page %d %s", id, fault)
	}
	if err := s.claim(id, uint64(len(p)/pageSize)); err != nil {
		return err
	}
	if !leaf && len(elements) == 0 {
		return damaged("page %d is a branch without children", id)
	}
	for i, e := range elements {
		within := span{from: e.key, to: keys.to}
		if i+1 < len(elements) {
			within.to = elements[i+1].key
		}
		switch {
		case !leaf:
			err = cmp.Or(err, s.step(e.child, within))
		case e.bucket && e.root() != 0:
			s.roots = append(s.roots, e.root())
		}
	}
	return err
}

// claim marks n pages as in use. One that was reached before is a fault.
func (s *survey) claim(id, n uint64) error {
	for p := id; p < id+n; p++ {
		if _, free := slices.BinarySearch(s.in.freed, p); free && s.freed == nil {
			s.freed = damaged("page %d is in use and listed as free", p)
		}
		if s.used[p] {
			return damaged("page %d is reached twice: the pages lead round in a circle, or belong to two buckets", p)
		}
		s.used[p] = true
	}
	return nil
}

// everyPage makes sure that no page is lost: each is in use, listed as free, or holds that list.
func (s *survey) everyPage() error {
	if lost := int(s.in.Pages) - 2 - len(s.used) - len(s.in.freed); lost > 0 {
		return damaged("%d pages are neither in use nor listed as free", lost)
	}
	return nil
}
