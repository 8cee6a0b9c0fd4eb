package render

import (
	"fmt"
	"io"
	"time"

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

// margin is what stays free at the edges of a page; printers need about as much.
const margin = 12.0

// printable is the room on a page, in mm.
func (p Paper) printable() (width, height float64) {
	return p.Width - 2*margin, p.Height - 2*margin - 6
}

// ScenePDF writes scenes as a document, as many on a page as fit one below another, shrunk
// where they are larger than the page. The same scenes give the same bytes.
func ScenePDF(w io.Writer, title string, scenes []*Scene, paper Paper) error {
	d := newDocument(title, paper)
	d.scenes(scenes)
	return d.finish(w)
}

// document is a PDF under way.
type document struct {
	*fpdf.Fpdf
	paper Paper
	title string
	ink   Ink // set in the document
	text  lettering
}

// someDay stands in documents for the day they were made, which would make no two alike.
var someDay = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

func newDocument(title string, paper Paper) *document {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height}})
	f.SetCreationDate(someDay)
	f.SetModificationDate(someDay)
	f.SetCatalogSort(true)
	f.SetTitle(title, true)
	f.SetLang("en-US")
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(margin, margin, margin)
	f.AddUTF8FontFromBytes("go", "", goregular.TTF)
	f.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	f.AliasNbPages("{pages}")
	d := &document{Fpdf: f, paper: paper, title: title}
	f.SetFooterFunc(d.footer)
	return d
}

// footer numbers the pages and names the piece.
func (d *document) footer() {
	d.letters(lettering{3, false})
	d.SetTextColor(int(inkBlack.R), int(inkBlack.G), int(inkBlack.B))
	d.SetXY(margin, d.paper.Height-margin-2)
	d.CellFormat(d.paper.Width-2*margin, 4, fmt.Sprintf("%s, page %d of {pages}", d.title, d.PageNo()), "", 0, "L", false, 0, "")
}

func (d *document) finish(w io.Writer) error { return d.Output(w) }

// page begins a page, with nothing of the one before it in force.
func (d *document) page() {
	d.AddPage()
	d.ink, d.text = Ink{}, lettering{}
}

// betweenScenes stays free between two scenes on a page, in mm.
const betweenScenes = 7

// scenes draws scenes from the top of a new page on.
func (d *document) scenes(scenes []*Scene) {
	width, height := d.paper.printable()
	used := height // no page is begun
	for _, s := range scenes {
		scale := min(1, width/s.Width, height/s.Height)
		if used+s.Height*scale > height {
			d.page()
			used = 0
		}
		d.sceneAt(s, margin, margin+used, scale)
		used += s.Height*scale + betweenScenes
	}
}

// sceneAt draws a scene with its upper left corner at a place of the page.
func (d *document) sceneAt(s *Scene, x, y, scale float64) {
	d.TransformBegin()
	d.TransformTranslate(x, y)
	if scale < 1 {
		d.TransformScale(scale*100, scale*100, 0, 0)
	}
	d.ink, d.text = Ink{}, lettering{}
	d.scene(s)
	d.TransformEnd()
	d.ink, d.text = Ink{}, lettering{}
}

// scene draws the shapes of a scene where the document's transformations put them.
func (d *document) scene(s *Scene) {
	clipped := false
	for i := range s.Shapes {
		shape := &s.Shapes[i]
		if shape.Kind != Clip {
			d.shape(shape)
			continue
		}
		if clipped {
			d.ClipEnd()
		}
		if clipped = len(shape.Points) > 0; clipped {
			a, b := shape.Points[0], shape.Points[1]
			d.ClipRect(a.X, a.Y, b.X-a.X, b.Y-a.Y, false)
		}
		d.ink, d.text = Ink{}, lettering{}
	}
	if clipped {
		d.ClipEnd()
	}
}

func (d *document) shape(s *Shape) {
	d.use(s.Ink)
	style := paintStyle(s.Ink)
	first := s.Points[0]
	switch s.Kind {
	case Box:
		d.Rect(first.X, first.Y, s.Points[1].X-first.X, s.Points[1].Y-first.Y, style)
	case Disc:
		d.Circle(first.X, first.Y, s.Radius, style)
	case Label:
		d.label(s)
	default:
		d.path(s, style)
	}
}

func (d *document) path(s *Shape, style string) {
	d.MoveTo(s.Points[0].X, s.Points[0].Y)
	for i := 1; i < len(s.Points); i++ {
		p := s.Points[i]
		if s.Kind == Line {
			d.LineTo(p.X, p.Y)
			continue
		}
		i++
		d.CurveTo(p.X, p.Y, s.Points[i].X, s.Points[i].Y)
	}
	d.DrawPath(style)
}

// paintStyle is the word for filling, stroking or both.
func paintStyle(ink Ink) string {
	switch {
	case ink.Fill == nil:
		return "D"
	case ink.Stroke == nil:
		return "F"
	}
	return "FD"
}

// use sets the paint, as far as it is not set already.
func (d *document) use(ink Ink) {
	if ink.Fill != nil && !same(ink.Fill, d.ink.Fill) {
		d.SetFillColor(int(ink.Fill.R), int(ink.Fill.G), int(ink.Fill.B))
		d.ink.Fill = ink.Fill
	}
	if ink.Stroke == nil {
		return
	}
	if !same(ink.Stroke, d.ink.Stroke) {
		d.SetDrawColor(int(ink.Stroke.R), int(ink.Stroke.G), int(ink.Stroke.B))
	}
	if ink.Width != d.ink.Width || d.ink.Stroke == nil {
		d.SetLineWidth(ink.Width)
	}
	if ink.Dash != d.ink.Dash || d.ink.Stroke == nil {
		d.dash(ink.Dash)
	}
	d.ink.Stroke, d.ink.Width, d.ink.Dash = ink.Stroke, ink.Width, ink.Dash
}

func (d *document) dash(dash float64) {
	if dash > 0 {
		d.SetDashPattern([]float64{dash, dash}, 0)
		d.SetLineCapStyle("butt")
		return
	}
	d.SetDashPattern(nil, 0)
	d.SetLineCapStyle("round")
	d.SetLineJoinStyle("round")
}

func same(a, b *chart.Color) bool { return a != nil && b != nil && *a == *b }

func (d *document) label(s *Shape) {
	d.letters(lettering{s.Size, s.Bold})
	d.SetTextColor(int(s.Fill.R), int(s.Fill.G), int(s.Fill.B))
	x := s.Points[0].X
	switch s.Align {
	case Middle:
		x -= d.GetStringWidth(s.Text) / 2
	case End:
		x -= d.GetStringWidth(s.Text)
	}
	d.Text(x, s.Points[0].Y, s.Text)
}

// letters sets the letters; size is that of the em in mm.
func (d *document) letters(l lettering) {
	if d.text == l {
		return
	}
	style := ""
	if l.bold {
		style = "B"
	}
	d.SetFont("go", style, l.size*pointsPerMm)
	d.text = l
}

// pointsPerMm is 72 points an inch of 25.4 mm.
const pointsPerMm = 72 / 25.4
