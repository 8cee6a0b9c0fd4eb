// Package pdf writes documents of lines, filled shapes and text in the Portable Document
// Format, as ISO 32000-1:2008 (PDF 1.7) has it; comments name its clauses where a rule comes
// from there. It does what pictures and cards need and no more: no images, no links, no
// encryption.
//
// Lengths are in mm, and so are the sizes of letters (their em). The origin of a page is its
// upper left corner; x grows to the right and y downwards. Numbers must be finite and are kept
// to a thousandth of a mm.
//
// Fonts are TrueType and go into the document cut down to the letters used. The same calls
// give the same bytes: the date is the caller's, and nothing is drawn by lot.
package pdf

import (
	"fmt"
	"io"
	"strings"
	"time"
)

// About is what a document says of itself.
type About struct {
	Title    string
	Language string // as in RFC 3066, such as en-US
	Made     time.Time
}

// Document is a document under way. All its pages have the same size.
type Document struct {
	about         About
	width, height float64 // mm
	fonts         []*Font
	pages         []*Page
}

// New begins a document of pages of a size in mm.
func New(width, height float64, about About) *Document {
	return &Document{about: about, width: width, height: height}
}

// AddPage begins another page. Those before it can still be drawn on.
func (d *Document) AddPage() *Page {
	p := newPage(d.height)
	d.pages = append(d.pages, p)
	return p
}

// Pages are the pages begun so far, in order.
func (d *Document) Pages() []*Page { return d.pages }

// WriteTo writes the document and answers how many bytes that took. A document without pages
// gets an empty one: none is not allowed (7.7.3.2). The errors are those of w and of fonts
// that cannot be cut down.
func (d *Document) WriteTo(w io.Writer) (int64, error) {
	if len(d.pages) == 0 {
		d.AddPage()
	}
	f := newFile()
	catalog, info, tree := f.reserve(), f.reserve(), f.reserve()
	f.object(catalog, fmt.Sprintf("<< /Type /Catalog /Pages %s /Lang %s >>", tree, literal([]byte(d.about.Language))))
	f.object(info, d.info())
	fonts, err := d.writeFonts(f)
	if err != nil {
		return 0, err
	}
	d.writePages(f, tree, fonts)
	n, err := w.Write(f.finish(catalog, info))
	return int64(n), err
}

// info is the document information dictionary (14.3.3).
func (d *Document) info() string {
	made := literal([]byte(d.about.Made.UTC().Format("D:20060102150405Z"))) // 7.9.4
	return fmt.Sprintf("<< /Title %s /CreationDate %s /ModDate %s >>", text(d.about.Title), made, made)
}

// writeFonts writes the fonts and gives the dictionary that names them. A font of which no
// letter is used is left out.
func (d *Document) writeFonts(f *file) (string, error) {
	var b strings.Builder
	b.WriteString("<<")
	for _, font := range d.fonts {
		if len(font.used) == 0 {
			continue
		}
		at, err := font.write(f)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&b, " /%s %s", font.name, at)
	}
	b.WriteString(" >>")
	return b.String(), nil
}

// writePages writes the pages and their tree, which is of one level. Size and fonts stand at
// its root, from which the pages inherit them (7.7.3.4).
func (d *Document) writePages(f *file, tree reference, fonts string) {
	var kids strings.Builder
	for _, p := range d.pages {
		page, content := f.reserve(), f.reserve()
		f.object(page, fmt.Sprintf("<< /Type /Page /Parent %s /Contents %s >>", tree, content))
		f.stream(content, "", p.content)
		fmt.Fprintf(&kids, " %s", page)
	}
	f.object(tree, fmt.Sprintf("<< /Type /Pages /Kids [%s ] /Count %d /MediaBox [0 0 %s %s] /Resources << /Font %s >> >>",
		kids.String(), len(d.pages), number(d.width*pointsPerMm), number(d.height*pointsPerMm), fonts))
}

// pointsPerMm is 72 points, the unit of default user space (8.3.2.3), an inch of 25.4 mm.
const pointsPerMm = 72 / 25.4
