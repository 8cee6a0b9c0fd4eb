package draw

import (
	"strandwise/chart"
	"strandwise/cmd/paper"
)

// Size is the size of the scene, in mm unless it is one of pixels.
func (s *Scene) Size() (width, height float64) { return s.Width, s.Height }

// PDF draws the scene on the current page of a book, its upper left corner at a place in mm.
func (s *Scene) PDF(b *paper.Book, x, y, scale float64) {
	b.TransformBegin()
	b.TransformTranslate(x, y)
	b.TransformScale(scale*100, scale*100, 0, 0) // percent
	pdfPen{b}.shapes(s.Shapes)
	b.TransformEnd()
}

type pdfPen struct{ *paper.Book }

func (d pdfPen) shapes(shapes []Shape) {
	for i := range shapes {
		s := &shapes[i]
		a, b := s.Points[0], s.Points[len(s.Points)-1]
		switch s.Kind {
		case Clip:
			d.ClipRect(a.X, a.Y, b.X-a.X, b.Y-a.Y, false)
			d.shapes(s.Inside)
			d.ClipEnd()
		case Label:
			d.Letters(s.Size, s.Bold)
			d.Words(a.X-d.Reach(s.Text)*float64(s.Align)/2, a.Y, s.Text, *s.Fill)
		case Box:
			d.Rect(a.X, a.Y, b.X-a.X, b.Y-a.Y, d.use(s.Ink))
		case Disc:
			d.Circle(a.X, a.Y, s.Radius, d.use(s.Ink))
		default:
			paint := d.use(s.Ink)
			d.along(s)
			d.DrawPath(paint)
		}
	}
}

// along goes along a line or bows. The library's own curve of one control point starts off
// towards the end and not towards that point; the curve of two that is the same parabola has
// them two thirds of the way from the ends to the one.
func (d pdfPen) along(s *Shape) {
	for i, p := range s.Points {
		switch {
		case i == 0:
			d.MoveTo(p.X, p.Y)
		case s.Kind == Line:
			d.LineTo(p.X, p.Y)
		case i%2 == 0:
			c := s.Points[i-1]
			from, to := toward(s.Points[i-2], c, 2.0/3), toward(p, c, 2.0/3)
			d.CurveBezierCubicTo(from.X, from.Y, to.X, to.Y, p.X, p.Y)
		}
	}
}

// use sets the paint and gives the library's word for it. Dashes end straight, lest they run into each other.
func (d pdfPen) use(ink Ink) string {
	paint := ""
	if ink.Fill != nil {
		d.SetFillColor(channels(ink.Fill))
		paint = "F"
	}
	if ink.Stroke == nil {
		return paint
	}
	d.SetDrawColor(channels(ink.Stroke))
	d.SetLineWidth(ink.Width)
	dashes, end := []float64(nil), "round"
	if ink.Dash > 0 {
		dashes, end = []float64{ink.Dash, ink.Dash}, "butt"
	}
	d.SetDashPattern(dashes, 0)
	d.SetLineCapStyle(end)
	return paint + "D"
}

func channels(c *chart.Color) (r, g, b int) { return int(c.R), int(c.G), int(c.B) }
