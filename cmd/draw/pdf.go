package draw

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

// PDF writes scenes as a document, as many on a page as fit one below another, shrunk
// where they are larger than the page. The same scenes give the same bytes.
func PDF(w io.Writer, title string, scenes []*Scene, paper Paper) error {
	d := NewBook(title, paper)
	d.Scenes(scenes)
	return d.Finish(w)
}

// Book is a PDF under way, measured in mm from the upper left corner of a page.
//
// The library notes what color and font were set last, over ends of clips and transformations
// and from page to page, where the document has others in force. So each shape and text sets
// all that it needs.
type Book struct {
	pdf   *fpdf.Fpdf
	paper Paper
	title string
}

// someDay stands in documents for the day they were made, which would make no two alike.
var someDay = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// NewBook begins a document without a page.
func NewBook(title string, paper Paper) *Book {
	size := fpdf.SizeType{Wd: paper.Width, Ht: paper.Height}
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: size})
	f.SetCreationDate(someDay)
	f.SetModificationDate(someDay)
	f.SetCatalogSort(true)
	f.SetTitle(writable(title), true)
	f.SetLang("en-US")
	f.AddUTF8FontFromBytes("go", "", goregular.TTF)
	f.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	f.SetLineJoinStyle("round")
	return &Book{pdf: f, paper: paper, title: title}
}

// Finish writes the document, its pages numbered and named for the piece.
func (d *Book) Finish(w io.Writer) error {
	pages := d.pdf.PageCount()
	for n := 1; n <= pages; n++ {
		d.pdf.SetPage(n)
		d.Shape(&Shape{
			Kind:   Label,
			Points: []Point{{Margin + 1, d.paper.Height - Margin + 0.9}}, Size: 3, Ink: Ink{Fill: &Black},
			Text: fmt.Sprintf("%s, page %d of %d", d.title, n, pages),
		})
	}
	return d.pdf.Output(w)
}

// betweenScenes stays free between two scenes on a page, in mm.
const betweenScenes = 7

// Scenes draws scenes from the top of a new page on.
func (d *Book) Scenes(scenes []*Scene) {
	width, height := d.paper.printable()
	used := height // no page is begun
	for _, s := range scenes {
		scale := min(1, width/s.Width, height/s.Height)
		if used+s.Height*scale > height {
			d.pdf.AddPage()
			used = 0
		}
		d.SceneAt(s, Margin, Margin+used, scale)
		used += s.Height*scale + betweenScenes
	}
}

// SceneAt draws a scene with its upper left corner at a place of the page.
func (d *Book) SceneAt(s *Scene, x, y, scale float64) {
	d.pdf.TransformBegin()
	d.pdf.TransformTranslate(x, y)
	d.pdf.TransformScale(scale*100, scale*100, 0, 0) // percent
	d.shapes(s.Shapes)
	d.pdf.TransformEnd()
}

// Shape draws a shape measured in mm from the upper left corner of the page.
func (d *Book) Shape(s *Shape) {
	p := s.Points
	switch s.Kind {
	case Clip:
		d.pdf.ClipRect(p[0].X, p[0].Y, p[1].X-p[0].X, p[1].Y-p[0].Y, false)
		d.shapes(s.Inside)
		d.pdf.ClipEnd()
	case Label:
		d.label(s)
	case Box:
		d.pdf.Rect(p[0].X, p[0].Y, p[1].X-p[0].X, p[1].Y-p[0].Y, d.use(s.Ink))
	case Disc:
		d.pdf.Circle(p[0].X, p[0].Y, s.Radius, d.use(s.Ink))
	default:
		paint := d.use(s.Ink)
		d.pdf.MoveTo(p[0].X, p[0].Y)
		d.along(s)
		d.pdf.DrawPath(paint)
	}
}

func (d *Book) shapes(shapes []Shape) {
	for i := range shapes {
		d.Shape(&shapes[i])
	}
}

// along goes along a line or bows. The library's own curve of one control point starts off
// towards the end and not towards that point; the curve of two that is the same parabola has
// them two thirds of the way from the ends to the one.
func (d *Book) along(s *Shape) {
	if s.Kind == Line {
		for _, p := range s.Points[1:] {
			d.pdf.LineTo(p.X, p.Y)
		}
		return
	}
	for i := 2; i < len(s.Points); i += 2 {
		a, c, b := s.Points[i-2], s.Points[i-1], s.Points[i]
		d.pdf.CurveBezierCubicTo(a.X+(c.X-a.X)*2/3, a.Y+(c.Y-a.Y)*2/3, b.X+(c.X-b.X)*2/3, b.Y+(c.Y-b.Y)*2/3, b.X, b.Y)
	}
}

// use sets the paint and gives the library's word for it. Dashes have straight ends, lest they
// run into each other.
func (d *Book) use(ink Ink) string {
	paint := ""
	if ink.Fill != nil {
		d.pdf.SetFillColor(channels(ink.Fill))
		paint = "F"
	}
	if ink.Stroke == nil {
		return paint
	}
	d.pdf.SetDrawColor(channels(ink.Stroke))
	d.pdf.SetLineWidth(ink.Width)
	if ink.Dash > 0 {
		d.pdf.SetDashPattern([]float64{ink.Dash, ink.Dash}, 0)
		d.pdf.SetLineCapStyle("butt")
	} else {
		d.pdf.SetDashPattern(nil, 0)
		d.pdf.SetLineCapStyle("round")
	}
	return paint + "D"
}

func channels(c *chart.Color) (r, g, b int) { return int(c.R), int(c.G), int(c.B) }

// label writes a text in the color of its filling.
func (d *Book) label(s *Shape) {
	d.Letters(s.Size, s.Bold)
	x := s.Points[0].X
	switch s.Align {
	case Middle:
		x -= d.Width(s.Text) / 2
	case End:
		x -= d.Width(s.Text)
	}
	d.pdf.SetFillColor(channels(s.Fill))
	d.pdf.SetTextColor(channels(s.Fill))
	d.pdf.Text(x, s.Points[0].Y, writable(s.Text))
}

// Page begins a page.
func (d *Book) Page() { d.pdf.AddPage() }

// Letters sets the letters of the texts to come. The size is that of the em.
func (d *Book) Letters(size float64, bold bool) {
	style := ""
	if bold {
		style = "B"
	}
	d.pdf.SetFont("go", style, size*d.pdf.GetConversionRatio())
}

// Width is how far a text of the letters set goes, in mm.
func (d *Book) Width(text string) float64 { return d.pdf.GetStringWidth(writable(text)) }

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
