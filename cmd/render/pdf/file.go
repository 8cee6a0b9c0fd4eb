package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"hash/fnv"
)

// file is a document's bytes under way: objects one after another, and where each begins. Its
// end is a cross-reference table of these places, by which readers find objects.
type file struct {
	bytes  bytes.Buffer
	places []int // of object n at n-1; 0 as long as it is not written
	packer *zlib.Writer
	packed bytes.Buffer
}

// reference is the number of an object, from 1.
type reference int

// String refers to the object (7.3.10). Generations are all 0.
func (r reference) String() string { return fmt.Sprintf("%d 0 R", int(r)) }

// newFile begins a file with its header (7.5.2). The comment of bytes from 128 up tells
// programs that carry the file that it is no text.
func newFile() *file {
	f := &file{}
	f.bytes.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
	f.packer = zlib.NewWriter(&f.packed)
	return f
}

// reserve gives the number of an object to be written later.
func (f *file) reserve() reference {
	f.places = append(f.places, 0)
	return reference(len(f.places))
}

// object writes an object (7.3.10).
func (f *file) object(at reference, body string) {
	f.places[at-1] = f.bytes.Len()
	fmt.Fprintf(&f.bytes, "%d 0 obj\n%s\nendobj\n", int(at), body)
}

// stream writes a stream (7.3.8), compressed (7.4.4). Entries are those of its dictionary
// besides length and filter.
func (f *file) stream(at reference, entries string, data []byte) {
	f.packed.Reset()
	f.packer.Reset(&f.packed)
	_, _ = f.packer.Write(data) // neither fails: they write to memory
	_ = f.packer.Close()
	f.places[at-1] = f.bytes.Len()
	fmt.Fprintf(&f.bytes, "%d 0 obj\n<< /Length %d /Filter /FlateDecode%s >>\nstream\n", int(at), f.packed.Len(), entries)
	f.bytes.Write(f.packed.Bytes())
	f.bytes.WriteString("\nendstream\nendobj\n")
}

// finish writes the cross-reference table (7.5.4), each entry of which takes 20 bytes, and the
// trailer (7.5.5), and gives the whole. The identifier (14.4) is a sum of all that precedes,
// so that the same document has the same.
func (f *file) finish(catalog, info reference) []byte {
	sum := fnv.New128a()
	_, _ = sum.Write(f.bytes.Bytes())
	id := sum.Sum(nil)
	table := f.bytes.Len()
	fmt.Fprintf(&f.bytes, "xref\n0 %d\n%010d %05d f \n", len(f.places)+1, 0, 65535)
	for _, place := range f.places {
		fmt.Fprintf(&f.bytes, "%010d %05d n \n", place, 0)
	}
	fmt.Fprintf(&f.bytes, "trailer\n<< /Size %d /Root %s /Info %s /ID [<%x> <%x>] >>\nstartxref\n%d\n%%%%EOF\n",
		len(f.places)+1, catalog, info, id, id, table)
	return f.bytes.Bytes()
}
