// Package paper is sheets of paper and the PDF that is written on them: fonts, pages, texts. In
// come what drawings and documents put on a page, in mm from its upper left corner; out go the
// bytes, the same for the same pages. It knows neither pictures nor sentences.
package paper

import (
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"strandwise/chart"
)

// Paper is a size of paper, upright.
type Paper struct {
	Name          string
	Width, Height float64 // mm
}

// The papers.
var (
	A4     = Paper{"a4", 210, 297}
	Letter = Paper{"letter", 215.9, 279.4}
)

// Margin is what stays free at the edges of a page in mm; printers need about as much.
const Margin = 12.0

const foot = 6 // what the number of the page takes, in mm

// Room is the room within the margins and above the number of the page, in mm.
func (p Paper) Room() (width, height float64) {
	return p.Width - 2*Margin, p.Height - 2*Margin - foot
}

// Book is a PDF under way, measured in mm from the upper left corner of a page.
//
// The library notes what color and font were set last, over ends of clips and transformations
// and from page to page, where the document has others in force. So each shape and text sets
// all that it needs.
type Book struct {
	*fpdf.Fpdf
	FootSize float64 // of the letters at the foot of a page, in mm

	paper Paper
	title string
	on    map[int]string // what the foot of a page tells of it, by its number from 1
}

// someDay stands in documents for the day they were made, which would make no two alike.
var someDay = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// NewBook begins a document without a page.
func NewBook(title string, p Paper) *Book {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: p.Width, Ht: p.Height}})
	f.SetCreationDate(someDay)
	f.SetModificationDate(someDay)
	f.SetCatalogSort(true)
	f.SetTitle(writable(title), true)
	f.SetLang("en-US")
	f.AddUTF8FontFromBytes("go", "", goregular.TTF)
	f.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	f.SetLineJoinStyle("round")
	return &Book{f, 3, p, title, map[int]string{}}
}

// Foot has the foot of the current page tell what stands on it.
func (b *Book) Foot(told string) { b.on[b.PageNo()] = ", " + told }

// cut is a text of the letters set as far as the room in mm goes, with a sign where some is left out.
func (b *Book) cut(text string, room float64) string {
	if b.Reach(text) <= room {
		return text
	}
	for text != "" && b.Reach(text+"…") > room {
		_, last := utf8.DecodeLastRuneInString(text)
		text = text[:len(text)-last]
	}
	return text + "…"
}

// Finish writes the document, its pages numbered and named for the piece. An error is one of w.
func (b *Book) Finish(w io.Writer) error {
	pages := b.PageCount()
	for n := 1; n <= pages; n++ {
		b.SetPage(n)
		b.Letters(b.FootSize, false)
		width, _ := b.paper.Room()
		rest := fmt.Sprintf("%s, page %d of %d", b.on[n], n, pages)
		told := b.cut(b.cut(b.title, width-b.Reach(rest)-2)+rest, width-1)
		b.Words(Margin+1, b.paper.Height-Margin+0.9, told, chart.Color{R: 0x1A, G: 0x1A, B: 0x1A})
	}
	return b.Output(w)
}

// Letters sets the letters of the texts to come. The size is that of the em, in mm.
func (b *Book) Letters(size float64, bold bool) {
	b.SetFont("go", map[bool]string{true: "B"}[bold], size*b.GetConversionRatio())
}

// Reach is how far a text of the letters set goes, in mm.
func (b *Book) Reach(text string) float64 { return b.GetStringWidth(writable(text)) }

// Words writes a text of the letters set from a point on its base line.
func (b *Book) Words(x, y float64, text string, c chart.Color) {
	b.SetFillColor(int(c.R), int(c.G), int(c.B))
	b.SetTextColor(int(c.R), int(c.G), int(c.B))
	b.Text(x, y, writable(text))
}

// writable is a text with signs for missing letters in place of those that the library cannot
// write: letters beyond the 65536 of two bytes, and bytes that are no letters. The fonts have
// none of them.
func writable(text string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xFFFF {
			return utf8.RuneError
		}
		return r
	}, text)
}
