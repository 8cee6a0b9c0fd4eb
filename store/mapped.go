package store

import (
	"io"
	"os"
)

// mapped is a file in memory, to be read only. That makes no call to the system: to walk
// over hundreds of pages takes a fraction of the time it takes to ask for each. A page
// that the disk does not give is a memory fault, so it is only for work that is guarded.
type mapped []byte

// readerOf gives the file in memory where that can be had, else the file itself, and how
// to let it go. So many of its first pages can be read.
func readerOf(f *os.File, pages uint64) (r io.ReaderAt, letGo func()) {
	if m := mapFile(f, int64(pages)*pageSize); m != nil {
		return m, m.unmap
	}
	return f, func() {}
}

// at gives n pages from the given one on.
func (m mapped) at(id, n uint64) ([]byte, error) {
	from, to := id*pageSize, (id+n)*pageSize
	if to > uint64(len(m)) {
		return nil, damaged("page %d cannot be read (%v)", id, io.EOF)
	}
	return m[from:to:to], nil
}

// ReadAt copies from the file.
func (m mapped) ReadAt(p []byte, at int64) (int, error) {
	if at < 0 || at > int64(len(m)) {
		return 0, io.EOF
	}
	n := copy(p, m[at:])
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}
