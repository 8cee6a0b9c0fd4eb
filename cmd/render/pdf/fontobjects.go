package pdf

import (
	"fmt"
	"hash/fnv"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
)

// write writes the font's objects: a Type 0 font (9.7.6.1) of one CIDFont (9.7.4), its
// descriptor, the font itself, and the tables from codes to glyphs and to letters.
func (f *Font) write(to *file) (reference, error) {
	cut, err := f.cut()
	if err != nil {
		return 0, err
	}
	whole, part, descriptor := to.reserve(), to.reserve(), to.reserve()
	program, glyphs, letters := to.reserve(), to.reserve(), to.reserve()
	called := f.called(cut)
	to.object(whole, fmt.Sprintf("<< /Type /Font /Subtype /Type0 /BaseFont %s /Encoding /Identity-H /DescendantFonts [%s] /ToUnicode %s >>",
		called, part, letters))
	to.object(part, fmt.Sprintf("<< /Type /Font /Subtype /CIDFontType2 /BaseFont %s /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> "+
		"/FontDescriptor %s /CIDToGIDMap %s /W [0 [%s]] >>", called, descriptor, glyphs, f.widths()))
	to.object(descriptor, f.descriptor(called, program))
	to.stream(program, fmt.Sprintf(" /Length1 %d", len(cut)), cut)
	to.stream(glyphs, "", f.glyphs())
	to.stream(letters, "", []byte(f.toUnicode()))
	return whole, nil
}

// called is the font's name after a mark that it is a part, different for different parts
// (9.6.4).
func (f *Font) called(cut []byte) string {
	sum := fnv.New64a()
	_, _ = sum.Write(cut)
	mark, rest := [6]byte{}, sum.Sum64()
	for i := range mark {
		mark[i] = byte('A' + rest%26)
		rest /= 26
	}
	own, err := f.tables.Name(&f.scratch, sfnt.NameIDPostScript)
	if err != nil {
		own = f.name
	}
	return name(string(mark[:]) + "+" + own)
}

// widths are those of the codes from 0 on (9.7.4.3).
func (f *Font) widths() string {
	var b strings.Builder
	fmt.Fprint(&b, f.advance(0))
	for _, l := range f.used {
		fmt.Fprintf(&b, " %d", l.width)
	}
	return b.String()
}

// glyphs are those of the codes from 0 on, two bytes each (Table 117).
func (f *Font) glyphs() []byte {
	b := []byte{0, 0}
	for _, l := range f.used {
		b = append(b, byte(l.glyph>>8), byte(l.glyph))
	}
	return b
}

// symbolic is the flag of fonts with more than the standard Latin letters (Table 123).
const symbolic = 1 << 2

// descriptor is the font's descriptor (9.8). Fonts do not tell how thick their stems are; it
// is measured at the vertical bar, which is one.
func (f *Font) descriptor(called string, program reference) string {
	metrics, _ := f.tables.Metrics(&f.scratch, f.em(), font.HintingNone)
	box, _ := f.tables.Bounds(&f.scratch, f.em(), font.HintingNone)
	stem, _, _ := f.tables.GlyphBounds(&f.scratch, f.letter('|').glyph, f.em(), font.HintingNone)
	italic := 0.0
	if post := f.tables.PostTable(); post != nil {
		italic = post.ItalicAngle
	}
	th := f.thousandths
	return fmt.Sprintf("<< /Type /FontDescriptor /FontName %s /Flags %d /FontBBox [%d %d %d %d] /ItalicAngle %s "+
		"/Ascent %d /Descent %d /CapHeight %d /StemV %d /FontFile2 %s >>", called, symbolic,
		th(box.Min.X), th(-box.Max.Y), th(box.Max.X), th(-box.Min.Y), number(italic),
		th(metrics.Ascent), th(-metrics.Descent), th(metrics.CapHeight), th(stem.Max.X-stem.Min.X), program)
}

// The frame of a table from codes to letters, as the example in 9.10.3 has it.
const (
	cmapBegins = `/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<0000> <FFFF>
endcodespacerange
`
	cmapEnds = `endcmap
CMapName currentdict /CMap defineresource pop
end
end
`
)

// mostAtOnce is how many entries a section of such a table may have.
const mostAtOnce = 100

// toUnicode is the table from codes to letters in UTF-16 (9.10.3), by which text is copied and
// searched.
func (f *Font) toUnicode() string {
	var b strings.Builder
	b.WriteString(cmapBegins)
	for i, l := range f.used {
		if i%mostAtOnce == 0 {
			fmt.Fprintf(&b, "%d beginbfchar\n", min(mostAtOnce, len(f.used)-i))
		}
		fmt.Fprintf(&b, "<%04X> <%X>\n", l.code, appendUTF16(nil, string(l.rune)))
		if i%mostAtOnce == mostAtOnce-1 || i == len(f.used)-1 {
			b.WriteString("endbfchar\n")
		}
	}
	b.WriteString(cmapEnds)
	return b.String()
}
