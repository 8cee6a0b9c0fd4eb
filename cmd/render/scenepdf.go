package render

import (
	"fmt"
	"io"
	"time"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"strandwise/cmd/render/pdf"
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
	d, err := newDocument(title, paper)
	if err != nil {
		return err
	}
	d.scenes(scenes)
	return d.finish(w)
}

// document is a PDF under way.
type document struct {
	*pdf.Document
	*pdf.Page     // the one drawn on
	regular, bold *pdf.Font
	paper         Paper
	title         string
}

// someDay stands in documents for the day they were made, which would make no two alike.
var someDay = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

func newDocument(title string, paper Paper) (*document, error) {
	about := pdf.About{Title: title, Language: "en-US", Made: someDay}
	d := &document{Document: pdf.New(paper.Width, paper.Height, about), paper: paper, title: title}
	var err error
	if d.regular, err = d.AddFont(goregular.TTF); err != nil {
		return nil, err
	}
	d.bold, err = d.AddFont(gobold.TTF)
	return d, err
}

// finish writes the document, its pages numbered and named for the piece.
func (d *document) finish(w io.Writer) error {
	const size = 3
	pages := d.Pages()
	for i, p := range pages {
		p.SetFill(inkBlack.R, inkBlack.G, inkBlack.B)
		p.Text(d.regular, size, margin+1, d.paper.Height-margin+0.9, fmt.Sprintf("%s, page %d of %d", d.title, i+1, len(pages)))
	}
	_, err := d.WriteTo(w)
	return err
}

// page begins a page.
func (d *document) page() {
	d.Page = d.AddPage()
	d.SetCorners(pdf.RoundCorners)
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
	d.Save()
	d.Translate(x, y)
	if scale < 1 {
		d.Scale(scale)
	}
	d.scene(s)
	d.Restore()
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
			d.Restore()
		}
		if clipped = len(shape.Points) > 0; clipped {
			a, b := shape.Points[0], shape.Points[1]
			d.Save()
			d.Rectangle(a.X, a.Y, b.X-a.X, b.Y-a.Y)
			d.Clip()
		}
	}
	if clipped {
		d.Restore()
	}
}

func (d *document) shape(s *Shape) {
	d.use(s.Ink)
	first := s.Points[0]
	switch s.Kind {
	case Box:
		d.Rectangle(first.X, first.Y, s.Points[1].X-first.X, s.Points[1].Y-first.Y)
	case Disc:
		d.Circle(first.X, first.Y, s.Radius)
	case Label:
		d.label(s)
		return
	default:
		d.path(s)
	}
	d.Paint(s.Fill != nil, s.Stroke != nil)
}

func (d *document) path(s *Shape) {
	d.MoveTo(s.Points[0].X, s.Points[0].Y)
	for i := 1; i < len(s.Points); i++ {
		p := s.Points[i]
		if s.Kind == Line {
			d.LineTo(p.X, p.Y)
			continue
		}
		i++
		d.QuadTo(p.X, p.Y, s.Points[i].X, s.Points[i].Y)
	}
}

// use sets the paint. Dashes have straight ends, lest they run into each other.
func (d *document) use(ink Ink) {
	if ink.Fill != nil {
		d.SetFill(ink.Fill.R, ink.Fill.G, ink.Fill.B)
	}
	if ink.Stroke == nil {
		return
	}
	d.SetStroke(ink.Stroke.R, ink.Stroke.G, ink.Stroke.B)
	d.SetWidth(ink.Width)
	d.SetDash(ink.Dash)
	if ink.Dash > 0 {
		d.SetEnds(pdf.ButtEnds)
	} else {
		d.SetEnds(pdf.RoundEnds)
	}
}

// label writes a text in the color of its filling.
func (d *document) label(s *Shape) {
	font := d.font(s.Bold)
	x := s.Points[0].X
	switch s.Align {
	case Middle:
		x -= font.Width(s.Size, s.Text) / 2
	case End:
		x -= font.Width(s.Size, s.Text)
	}
	d.Text(font, s.Size, x, s.Points[0].Y, s.Text)
}

func (d *document) font(bold bool) *pdf.Font {
	if bold {
		return d.bold
	}
	return d.regular
}
