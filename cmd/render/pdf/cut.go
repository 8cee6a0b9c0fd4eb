package pdf

import (
	"encoding/binary"
	"errors"
)

// needed are the tables a TrueType font in a document must have, and those that hints of its
// outlines need (9.9, Table 126), in the order of their tags.
var needed = []string{"cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "prep"}

// cut is the font with the outlines of the letters used only. Glyphs keep their numbers, so
// that no other table changes: those not used become empty, for each outline ends where table
// loca says that the next begins.
func (f *Font) cut() ([]byte, error) {
	tables, err := tablesOf(f.data)
	if err != nil {
		return nil, err
	}
	whole, err := outlinesOf(tables)
	if err != nil {
		return nil, err
	}
	keep, err := whole.closed(f.used)
	if err != nil {
		return nil, err
	}
	kept := map[string][]byte{}
	for _, tag := range needed {
		if data, has := tables[tag]; has {
			kept[tag] = data
		}
	}
	kept["glyf"], kept["loca"] = whole.only(keep)
	return assemble(kept), nil
}

// outlines are those of a font's glyphs.
type outlines struct {
	data   []byte
	starts []int // of glyph n at n, and the end of the last
	long   bool  // how table loca writes places: halved in 2 bytes or in 4
}

var errOutlines = errors.New("the outlines of a font for a document are not where its tables say")

func outlinesOf(tables map[string][]byte) (*outlines, error) {
	head, loca := tables["head"], tables["loca"]
	if len(head) < 52 {
		return nil, errOutlines
	}
	o := &outlines{data: tables["glyf"], long: binary.BigEndian.Uint16(head[50:]) != 0}
	for len(loca) >= o.step() {
		start := 2 * int(binary.BigEndian.Uint16(loca))
		if o.long {
			start = int(binary.BigEndian.Uint32(loca))
		}
		if n := len(o.starts); start > len(o.data) || n > 0 && start < o.starts[n-1] {
			return nil, errOutlines
		}
		o.starts, loca = append(o.starts, start), loca[o.step():]
	}
	return o, nil
}

// step is how many bytes table loca has for each place.
func (o *outlines) step() int {
	if o.long {
		return 4
	}
	return 2
}

// glyph is the outline of a glyph, nil where it has none.
func (o *outlines) glyph(n int) []byte {
	if n+1 >= len(o.starts) {
		return nil
	}
	return o.data[o.starts[n]:o.starts[n+1]]
}

// closed are the glyphs of letters, the missing glyph, and the glyphs that these are put
// together from.
func (o *outlines) closed(letters []*letter) (map[int]bool, error) {
	keep := map[int]bool{}
	open := []int{0}
	for _, l := range letters {
		open = append(open, int(l.glyph))
	}
	for len(open) > 0 {
		n := open[len(open)-1]
		open = open[:len(open)-1]
		if keep[n] {
			continue
		}
		keep[n] = true
		parts, err := partsOf(o.glyph(n))
		if err != nil {
			return nil, err
		}
		open = append(open, parts...)
	}
	return keep, nil
}

// The flags of parts of glyphs, from the TrueType specification's table glyf.
const (
	wideArguments = 1 << 0
	oneScale      = 1 << 3
	moreParts     = 1 << 5
	twoScales     = 1 << 6
	fourScales    = 1 << 7
)

// partsOf are the glyphs that a glyph is put together from. One that is has a negative number
// of contours; parts follow its box.
func partsOf(glyph []byte) ([]int, error) {
	if len(glyph) < 2 || glyph[0] < 0x80 {
		return nil, nil
	}
	var parts []int
	for at := 10; ; {
		if at+4 > len(glyph) {
			return nil, errOutlines
		}
		flags := binary.BigEndian.Uint16(glyph[at:])
		parts = append(parts, int(binary.BigEndian.Uint16(glyph[at+2:])))
		if flags&moreParts == 0 {
			return parts, nil
		}
		at += partLength(flags)
	}
}

func partLength(flags uint16) int {
	length := 6
	if flags&wideArguments != 0 {
		length += 2
	}
	switch {
	case flags&oneScale != 0:
		length += 2
	case flags&twoScales != 0:
		length += 4
	case flags&fourScales != 0:
		length += 8
	}
	return length
}

// only are the tables glyf and loca of a part of the glyphs. No place grows, so they can be
// written as before; and they stay even, as halved places must.
func (o *outlines) only(keep map[int]bool) (glyf, loca []byte) {
	for n := range o.starts {
		if o.long {
			loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
		} else {
			loca = binary.BigEndian.AppendUint16(loca, uint16(len(glyf)/2))
		}
		if keep[n] {
			glyf = append(glyf, o.glyph(n)...)
		}
	}
	return glyf, loca
}
