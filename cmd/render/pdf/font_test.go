package pdf

import (
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

var goFonts = map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF}

// added is a font with some letters used.
func added(t testing.TB, data []byte, letters string) *Font {
	t.Helper()
	f, err := New(100, 50, About{}).AddFont(data)
	require.NoError(t, err)
	f.encode(letters)
	return f
}

// Advances are those of the font as another reader gives them, rounded to thousandths.
func TestWidthsAreTheFontsAdvances(t *testing.T) {
	for _, data := range goFonts {
		f := added(t, data, "")
		whole, err := sfnt.Parse(data)
		require.NoError(t, err)
		var b sfnt.Buffer
		sum, all := 0.0, ""
		for r := ' '; r < 0x250; r++ {
			glyph, err := whole.GlyphIndex(&b, r)
			require.NoError(t, err)
			advance, err := whole.GlyphAdvance(&b, glyph, fixed.I(1000), font.HintingNone)
			require.NoError(t, err)
			assert.InDelta(t, float64(advance)/64, f.Width(1000, string(r)), 0.5+1./64)
			sum, all = sum+f.Width(2, string(r)), all+string(r)
		}
		assert.InDelta(t, sum, f.Width(2, all), 1e-9)
	}
}

// someLetters have accents, are signs, and are missing.
const someLetters = "Aéß|–Łž(港"

// readable is a font cut down, with the tables back that only other readers need.
func readable(t *testing.T, cut, whole []byte) *sfnt.Font {
	t.Helper()
	tables, err := tablesOf(cut)
	require.NoError(t, err)
	before, err := tablesOf(whole)
	require.NoError(t, err)
	for _, tag := range []string{"OS/2", "cmap", "name", "post"} {
		require.NotContains(t, tables, tag)
		tables[tag] = before[tag]
	}
	f, err := sfnt.Parse(assemble(tables))
	require.NoError(t, err)
	return f
}

// outline is a glyph's outline as another reader gives it.
func outline(t *testing.T, f *sfnt.Font, n int) sfnt.Segments {
	t.Helper()
	var b sfnt.Buffer
	segments, err := f.LoadGlyph(&b, sfnt.GlyphIndex(n), fixed.Int26_6(f.UnitsPerEm()), nil)
	require.NoError(t, err)
	return segments
}

func TestCutFontsKeepUsedOutlinesOnly(t *testing.T) {
	for style, data := range goFonts {
		f := added(t, data, someLetters)
		cut, err := f.cut()
		require.NoError(t, err)
		part := readable(t, cut, data)
		require.Equal(t, f.tables.NumGlyphs(), part.NumGlyphs())
		tables, err := tablesOf(data)
		require.NoError(t, err)
		whole, err := outlinesOf(tables)
		require.NoError(t, err)
		keep, err := whole.closed(f.used)
		require.NoError(t, err)
		for n := range part.NumGlyphs() {
			if keep[n] {
				assert.Equal(t, outline(t, f.tables, n), outline(t, part, n), "%s %d", style, n)
			} else {
				assert.Empty(t, outline(t, part, n), "%s %d", style, n)
			}
		}
		for _, l := range f.used {
			assert.NotEmpty(t, outline(t, part, int(l.glyph)), "%c", l.rune)
		}
		assert.NotEmpty(t, outline(t, part, 0), "the missing glyph")
		assert.Less(t, len(cut), len(data)/8)
	}
}

// composed is Go Regular with é put together from e and the acute accent: one part placed by
// bytes and scaled, one by words. Go's own fonts have no such glyphs.
func composed(t *testing.T) (font []byte, e, acute, both int) {
	t.Helper()
	f := added(t, goregular.TTF, "")
	e, acute, both = int(f.letter('e').glyph), int(f.letter('´').glyph), int(f.letter('é').glyph)
	tables, err := tablesOf(goregular.TTF)
	require.NoError(t, err)
	whole, err := outlinesOf(tables)
	require.NoError(t, err)
	glyph := append([]byte{0xff, 0xff}, whole.glyph(both)[2:10]...)
	for _, word := range []int{1<<1 | 1<<3 | 1<<5, e, 0x0500, 0x4000, 1<<0 | 1<<1, acute, 300, 100} {
		glyph = binary.BigEndian.AppendUint16(glyph, uint16(word))
	}
	var glyf, loca []byte
	for n := range whole.starts {
		loca = binary.BigEndian.AppendUint16(loca, uint16(len(glyf)/2))
		if n == both {
			glyf = append(glyf, glyph...)
		} else {
			glyf = append(glyf, whole.glyph(n)...)
		}
	}
	require.False(t, whole.long)
	tables["glyf"], tables["loca"] = glyf, loca
	return assemble(tables), e, acute, both
}

// Parts of glyphs stay with them.
func TestCutFontsKeepParts(t *testing.T) {
	data, e, acute, both := composed(t)
	f := added(t, data, "é")
	cut, err := f.cut()
	require.NoError(t, err)
	part := readable(t, cut, data)
	assert.Equal(t, outline(t, f.tables, both), outline(t, part, both))
	assert.Len(t, outline(t, part, both), len(outline(t, f.tables, e))+len(outline(t, f.tables, acute)))
	kept := 0
	for n := range part.NumGlyphs() {
		if len(outline(t, part, n)) > 0 {
			kept++
		}
	}
	assert.Equal(t, 4, kept, "é, its parts and the missing glyph")
}

// Parts are found whatever stands between them, and the end of the glyph is minded.
func TestPartsOf(t *testing.T) {
	box := "\xff\xff........"
	for glyph, want := range map[string][]int{
		"": nil, "\x00\x01........": nil,
		box + "\x00\x00\x00\x07..":                                   {7},
		box + "\x00\x20\x00\x07..\x00\x20\x01\x02..\x00\x00\x00\x09": {7, 258, 9},
		box + "\x00\x21\x00\x07....\x00\x00\x00\x09":                 {7, 9},
		box + "\x00\x28\x00\x07....\x00\x00\x00\x09":                 {7, 9},
		box + "\x00\x61\x00\x07........\x00\x00\x00\x09":             {7, 9},
		box + "\x00\xa0\x00\x07..........\x00\x00\x00\x09":           {7, 9},
	} {
		parts, err := partsOf([]byte(glyph))
		require.NoError(t, err)
		assert.Equal(t, want, parts, "%q", glyph)
	}
	_, err := partsOf([]byte(box + "\x00\x20\x00\x07.."))
	assert.ErrorIs(t, err, errOutlines)
}

// The sums that a font's maker put into it are the outside reference: those of tables left
// alone come out again, and the whole adds up to the number the TrueType specification asks.
func TestChecksums(t *testing.T) {
	for _, data := range goFonts {
		require.EqualValues(t, 0xb1b0afba, checksum(data))
		cut, err := added(t, data, someLetters).cut()
		require.NoError(t, err)
		assert.EqualValues(t, 0xb1b0afba, checksum(cut))
		before, after := sums(data), sums(cut)
		assert.Len(t, after, len(needed))
		for tag, sum := range after {
			if tag == "glyf" || tag == "loca" {
				assert.NotEqual(t, before[tag], sum, tag)
			} else {
				assert.Equal(t, before[tag], sum, tag)
			}
		}
		tables, err := tablesOf(data)
		require.NoError(t, err)
		assert.Equal(t, data[:headerLength], assemble(tables)[:headerLength], "the numbers to search by")
	}
}

// sums are the checksums that a font gives for its tables.
func sums(font []byte) map[string]uint32 {
	all := map[string]uint32{}
	for i := range int(binary.BigEndian.Uint16(font[4:])) {
		record := font[headerLength+i*recordLength:]
		all[string(record[:4])] = binary.BigEndian.Uint32(record[4:])
	}
	return all
}

// Dictionaries and tables of the font, by the entries of ISO 32000-1, Tables 117, 121 and 122.
func TestFontObjects(t *testing.T) {
	f := added(t, goregular.TTF, "aé港a🚢")
	to := newFile()
	catalog := to.reserve()
	to.object(catalog, "<< >>")
	at, err := f.write(to)
	require.NoError(t, err)
	objects, _ := read(t, to.finish(catalog, catalog))
	called := `/[A-Z]{6}\+GoRegular`
	assert.Regexp(t, `^<< /Type /Font /Subtype /Type0 /BaseFont `+called+` /Encoding /Identity-H /DescendantFonts \[3 0 R\] /ToUnicode 7 0 R >>$`,
		objects[int(at)].entries)
	missing := f.advance(0)
	assert.Contains(t, objects[3].entries, fmt.Sprintf("/CIDToGIDMap 6 0 R /W [0 [%d %d %d %d %d]] >>",
		missing, f.letter('a').width, f.letter('é').width, missing, missing))
	assert.Regexp(t, `^<< /Type /FontDescriptor /FontName `+called+` /Flags 4 `+measures(t, goregular.TTF)+` /StemV 77 /FontFile2 5 0 R >>$`,
		objects[4].entries)
	assert.Contains(t, objects[5].entries, fmt.Sprintf(" /Length1 %d", len(objects[5].stream)))
	a, e := f.letter('a').glyph, f.letter('é').glyph
	assert.Equal(t, []byte{0, 0, byte(a >> 8), byte(a), byte(e >> 8), byte(e), 0, 0, 0, 0}, []byte(objects[6].stream))
	assert.Contains(t, objects[7].stream, "\n4 beginbfchar\n<0001> <0061>\n<0002> <00E9>\n<0003> <6E2F>\n<0004> <D83DDEA2>\nendbfchar\nendcmap\n")
}

// measures are a font's, taken from where the TrueType specification puts them. (Its vertical
// bar is 158 of 2048 wide, 77 thousandths.)
func measures(t *testing.T, data []byte) string {
	t.Helper()
	tables, err := tablesOf(data)
	require.NoError(t, err)
	at := func(tag string, place int) int {
		return int(math.Round(float64(int16(binary.BigEndian.Uint16(tables[tag][place:]))) * 1000 / 2048))
	}
	return fmt.Sprintf(`/FontBBox \[%d %d %d %d\] /ItalicAngle 0 /Ascent %d /Descent %d /CapHeight %d`,
		at("head", 36), at("head", 38), at("head", 40), at("head", 42), at("hhea", 4), at("hhea", 6), at("OS/2", 88))
}

// Sections of the table to letters have at most 100 entries each (9.10.3 has the limit of the
// CMap specification).
func TestManyLettersInSections(t *testing.T) {
	letters := ""
	for r := 'Ā'; r < 'Ā'+200; r++ {
		letters += string(r)
	}
	table := added(t, goregular.TTF, letters).toUnicode()
	assert.Equal(t, 2, strings.Count(table, "100 beginbfchar\n"))
	assert.Equal(t, 2, strings.Count(table, "begin"+"bfchar\n"))
	assert.Equal(t, 2, strings.Count(table, "endbfchar\n"))
}

// Past the last code letters show as missing; before it they have codes of their own.
func TestCodesRunOut(t *testing.T) {
	f := added(t, goregular.TTF, "")
	for r := rune(0x10000); len(f.used) < 65535; r++ {
		f.encode(string(r))
	}
	assert.Equal(t, []byte{0xff, 0xff, 0, 0}, f.encode(string(rune(0x10000+65534))+"a"))
}

func TestFontsThatCannotBeReadAreRefused(t *testing.T) {
	for _, data := range [][]byte{nil, []byte("OTTO"), goregular.TTF[:4000]} {
		_, err := New(1, 1, About{}).AddFont(data)
		assert.ErrorContains(t, err, "font for a document")
	}
}

// A font with some bytes changed is refused or cut down, never worse.
func FuzzFont(f *testing.F) {
	for _, at := range []int{0, 5, 12, 20, 28, 200, 4000, 60000} {
		f.Add(uint(at), []byte{0xff, 0xff})
	}
	f.Fuzz(func(t *testing.T, at uint, change []byte) {
		data := slices.Clone(goregular.TTF)
		copy(data[at%uint(len(data)):], change)
		font, err := New(100, 50, About{}).AddFont(data)
		if err != nil {
			return
		}
		font.encode(someLetters)
		require.NotEmpty(t, font.descriptor("A", 1))
		if cut, err := font.cut(); err == nil {
			_, err = tablesOf(cut)
			require.NoError(t, err)
		}
	})
}
