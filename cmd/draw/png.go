package draw

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"strandwise/chart"
)

// finest is the most pixels a mm of a scene gets, mostPixels the most a picture has: a
// picture that would have more is drawn smaller.
const (
	finest     = 6.0
	mostPixels = 12_000_000
)

// PNG writes a scene as PNG in its own shape, as large as is useful. The same scene
// gives the same bytes.
func PNG(w io.Writer, s *Scene) error {
	scale := min(finest, math.Sqrt(mostPixels/(s.Width*s.Height)))
	bounds := image.Rect(0, 0, max(1, int(math.Round(s.Width*scale))), max(1, int(math.Round(s.Height*scale))))
	r := &raster{picture: image.NewRGBA(bounds), scale: scale, clip: bounds, faces: map[lettering]font.Face{}}
	draw.Draw(r.picture, bounds, image.White, image.Point{}, draw.Src)
	defer r.close()
	for i := range s.Shapes {
		if err := r.shape(&s.Shapes[i]); err != nil {
			return err
		}
	}
	return png.Encode(w, r.picture)
}

// raster draws shapes on pixels.
type raster struct {
	picture *image.RGBA
	scale   float64
	clip    image.Rectangle
	faces   map[lettering]font.Face
	pen     pen
}

// lettering is a size of letters in pixels and their weight.
type lettering struct {
	size float64
	bold bool
}

func (r *raster) shape(s *Shape) error {
	points := make([]Point, len(s.Points))
	for i, p := range s.Points {
		points[i] = Point{p.X * r.scale, p.Y * r.scale}
	}
	switch s.Kind {
	case Clip:
		r.setClip(points)
	case Box:
		r.box(points, s.Ink)
	case Label:
		return r.label(points[0], s)
	case Disc:
		r.disc(points[0], s.Radius*r.scale, s.Ink)
	case Line:
		r.line(points, s.Ink)
	case Bow:
		r.bow(points, s.Ink)
	}
	return nil
}

func (r *raster) setClip(points []Point) {
	r.clip = r.picture.Bounds()
	if len(points) > 0 {
		r.clip = r.clip.Intersect(pixels(points[0], points[1]))
	}
}

// pixels rounds corners to whole pixels, so that neighbouring boxes neither overlap nor part.
func pixels(a, b Point) image.Rectangle {
	return image.Rect(int(math.Round(a.X)), int(math.Round(a.Y)), int(math.Round(b.X)), int(math.Round(b.Y)))
}

func (r *raster) box(points []Point, ink Ink) {
	if ink.Fill != nil {
		draw.Draw(r.picture, pixels(points[0], points[1]).Intersect(r.clip), uniform(*ink.Fill), image.Point{}, draw.Src)
	}
	if ink.Stroke != nil {
		a, b := points[0], points[1]
		ink.Fill = nil
		r.line([]Point{a, {b.X, a.Y}, b, {a.X, b.Y}, a}, ink)
	}
}

// line fills what a line goes round and then draws it.
func (r *raster) line(points []Point, ink Ink) {
	if ink.Fill != nil {
		r.pen.fill(r.picture, r.clip, [][]Point{points}, uniform(*ink.Fill))
	}
	if ink.Stroke != nil {
		r.pen.stroke(r.picture, r.clip, points, r.width(ink), uniform(*ink.Stroke))
	}
}

// width is that of a stroke in pixels; none is too thin to be seen.
func (r *raster) width(ink Ink) float64 { return max(ink.Width*r.scale, 0.5) }

// disc draws the disc of the stroke's outer edge and on it that of the filling.
func (r *raster) disc(center Point, radius float64, ink Ink) {
	if ink.Stroke != nil {
		r.pen.fill(r.picture, r.clip, [][]Point{circle(center, radius+r.width(ink)/2)}, uniform(*ink.Stroke))
		radius -= r.width(ink) / 2
	}
	if ink.Fill != nil {
		r.pen.fill(r.picture, r.clip, [][]Point{circle(center, radius)}, uniform(*ink.Fill))
	}
}

func (r *raster) bow(points []Point, ink Ink) {
	for _, piece := range dashed(flattened(points), ink.Dash*r.scale) {
		r.pen.ribbon(r.picture, r.clip, piece, r.width(ink), ink.Dash == 0, uniform(*ink.Stroke))
	}
}

func uniform(c chart.Color) *image.Uniform {
	return image.NewUniform(color.RGBA{c.R, c.G, c.B, 0xFF})
}

func (r *raster) label(at Point, s *Shape) error {
	face, err := r.face(lettering{s.Size * r.scale, s.Bold})
	if err != nil {
		return err
	}
	clipped, _ := r.picture.SubImage(r.clip).(draw.Image)
	d := font.Drawer{Dst: clipped, Src: uniform(*s.Fill), Face: face}
	x := fixed.Int26_6(at.X * 64)
	switch s.Align {
	case Middle:
		x -= d.MeasureString(s.Text) / 2
	case End:
		x -= d.MeasureString(s.Text)
	}
	d.Dot = fixed.Point26_6{X: x, Y: fixed.Int26_6(at.Y * 64)}
	d.DrawString(s.Text)
	return nil
}

func (r *raster) face(l lettering) (font.Face, error) {
	if face := r.faces[l]; face != nil {
		return face, nil
	}
	letters := goregular.TTF
	if l.bold {
		letters = gobold.TTF
	}
	parsed, err := opentype.Parse(letters)
	if err != nil {
		return nil, err
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: l.size, DPI: 72})
	if err == nil {
		r.faces[l] = face
	}
	return face, err
}

func (r *raster) close() {
	for _, face := range r.faces {
		_ = face.Close()
	}
}
