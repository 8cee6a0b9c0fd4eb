package pdf

import (
	"fmt"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Font is a TrueType font of a document. Text numbers its letters from 1 in the order in which
// they are first used; these numbers are the codes in pages (9.7.4.2 calls them CIDs) and each
// has its glyph, its width and its letter in tables of its own. So letters the font lacks,
// which all show as its sign for a missing glyph, can still be told apart when text is copied,
// and so can letters that share a glyph. Code 0 is the missing glyph too; letters get it once
// the 65535 other codes are taken, and then do not copy.
type Font struct {
	name    string // in pages
	data    []byte
	tables  *sfnt.Font
	scratch sfnt.Buffer
	letters map[rune]*letter // measured or used
	used    []*letter        // the one with code n at n-1
}

// letter is a letter as a font has it.
type letter struct {
	rune  rune
	glyph sfnt.GlyphIndex // 0 is the missing glyph
	width int             // thousandths of the em
	code  uint16          // 0 as long as it is not used
}

// AddFont makes a TrueType font known to the document; data must stay as it is. The error is
// that the font cannot be read, as a font with outlines of another kind.
func (d *Document) AddFont(data []byte) (*Font, error) {
	tables, err := sfnt.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("the font for a document cannot be read: %w", err)
	}
	f := &Font{name: fmt.Sprintf("F%d", len(d.fonts)+1), data: data, tables: tables, letters: map[rune]*letter{}}
	if _, err := f.cut(); err != nil {
		return nil, err
	}
	d.fonts = append(d.fonts, f)
	return f, nil
}

// Width is how far a text goes in mm at a size of the em in mm: its letters' advances, each
// rounded to a thousandth of the em as in the document, with no regard to pairs of letters.
func (f *Font) Width(size float64, s string) float64 {
	thousandths := 0
	for _, r := range s {
		thousandths += f.letter(r).width
	}
	return float64(thousandths) * size / 1000
}

// letter finds a letter in the font.
func (f *Font) letter(r rune) *letter {
	if l, known := f.letters[r]; known {
		return l
	}
	l := &letter{rune: r}
	if glyph, err := f.tables.GlyphIndex(&f.scratch, r); err == nil {
		l.glyph = glyph
	}
	l.width = f.advance(l.glyph)
	f.letters[r] = l
	return l
}

// advance is the width of a glyph in thousandths of the em.
func (f *Font) advance(glyph sfnt.GlyphIndex) int {
	advance, err := f.tables.GlyphAdvance(&f.scratch, glyph, f.em(), font.HintingNone)
	if err != nil {
		return 0
	}
	return f.thousandths(advance)
}

// em is the size at which the font's measures come out in its own units.
func (f *Font) em() fixed.Int26_6 { return fixed.Int26_6(f.tables.UnitsPerEm()) }

// thousandths turns units of the font into those of dictionaries (9.2.4).
func (f *Font) thousandths(units fixed.Int26_6) int {
	return int(math.Round(float64(units) * 1000 / float64(f.em())))
}

// encode gives the codes of a text, two bytes each, the high one first (9.7.5.2: Identity-H),
// and marks its letters as used.
func (f *Font) encode(s string) []byte {
	codes := make([]byte, 0, 2*len(s))
	for _, r := range s {
		l := f.letter(r)
		if l.code == 0 && len(f.used) < math.MaxUint16 {
			f.used = append(f.used, l)
			l.code = uint16(len(f.used))
		}
		codes = append(codes, byte(l.code>>8), byte(l.code))
	}
	return codes
}
