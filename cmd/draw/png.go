package draw

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
	"slices"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"strandwise/chart"
)

const (
	finest     = 6.0        // pixels for a mm, at most
	mostPixels = 12_000_000 // of a picture in mm, drawn smaller beyond

	// MaxPixels bounds the pictures that are measured in pixels: 4 bytes a pixel are held.
	MaxPixels = 40_000_000
)

// TooLargeError tells that a picture would have more than MaxPixels.
type TooLargeError struct{ Width, Height int }

func (e *TooLargeError) Error() string {
	return fmt.Sprintf("a picture of %d by %d pixels is larger than %d million", e.Width, e.Height, MaxPixels/1_000_000)
}

// PNG writes a scene, one in mm as large as is useful, one in pixels as it is. The same scene gives the same bytes.
// The error is a *TooLargeError or that of w.
func PNG(w io.Writer, s *Scene) error {
	scale := min(finest, math.Sqrt(mostPixels/(s.Width*s.Height)))
	if s.Pixels {
		scale = 1
	}
	if s.Pixels && s.Width*s.Height > MaxPixels {
		return &TooLargeError{int(s.Width), int(s.Height)}
	}
	bounds := image.Rect(0, 0, max(1, int(math.Round(s.Width*scale))), max(1, int(math.Round(s.Height*scale))))
	r := &raster{picture: image.NewRGBA(bounds), scale: scale, clip: bounds, faces: map[lettering]font.Face{}}
	if !s.Clear {
		draw.Draw(r.picture, bounds, image.White, image.Point{}, draw.Src)
	}
	r.draw(s.Shapes)
	return png.Encode(w, r.picture)
}

type raster struct {
	picture *image.RGBA
	scale   float64
	clip    image.Rectangle
	faces   map[lettering]font.Face
}

// lettering is letters of a size in pixels and a weight.
type lettering struct {
	size float64
	bold bool
}

func (r *raster) draw(shapes []Shape) {
	for i := range shapes {
		r.shape(&shapes[i], placed(shapes[i].Points, Point{}, Point{r.scale, r.scale}))
	}
}

func (r *raster) shape(s *Shape, p []Point) {
	switch s.Kind {
	case Clip:
		inside := *r
		inside.clip = r.clip.Intersect(pixels(p[0], p[1]))
		inside.draw(s.Inside)
		return
	case Label:
		r.label(p[0], s)
		return
	case Box:
		if s.Fill != nil {
			draw.Draw(r.picture, pixels(p[0], p[1]).Intersect(r.clip), uniform(s.Fill), image.Point{}, draw.Src)
		}
		p = []Point{p[0], {p[1].X, p[0].Y}, p[1], {p[0].X, p[1].Y}, p[0]}
	case Disc:
		p = circle(p[0], s.Radius*r.scale)
		p = append(p, p[0])
	case Bow:
		p = flattened(p)
	}
	if s.Kind == Disc || s.Kind == Line {
		r.fill(s.Fill, p)
	}
	for _, piece := range dashed(p, s.Dash*r.scale) {
		width := max(s.Width*r.scale, 0.5) // none is too thin to be seen
		r.fill(s.Stroke, stroked(piece, width, s.Dash > 0)...)
	}
}

// pixels rounds corners to whole pixels, so that neighboring boxes neither overlap nor part.
func pixels(a, b Point) image.Rectangle {
	return image.Rect(int(math.Round(a.X)), int(math.Round(a.Y)), int(math.Round(b.X)), int(math.Round(b.Y)))
}

func uniform(c *chart.Color) *image.Uniform {
	return image.NewUniform(color.RGBA{c.R, c.G, c.B, 0xFF})
}

func (r *raster) label(at Point, s *Shape) {
	clipped, _ := r.picture.SubImage(r.clip).(draw.Image)
	dot := fixed.Point26_6{X: fixed.Int26_6(at.X * 64), Y: fixed.Int26_6(at.Y * 64)}
	d := font.Drawer{Dst: clipped, Src: uniform(s.Fill), Face: r.face(lettering{s.Size * r.scale, s.Bold}), Dot: dot}
	d.Dot.X -= d.MeasureString(s.Text) * fixed.Int26_6(s.Align) / 2
	d.DrawString(s.Text)
}

// face is that of a lettering. The fonts are our own, so that one that cannot be read is our fault.
func (r *raster) face(l lettering) font.Face {
	if r.faces[l] == nil {
		parsed, err := opentype.Parse(map[bool][]byte{false: goregular.TTF, true: gobold.TTF}[l.bold])
		if err == nil {
			r.faces[l], err = opentype.NewFace(parsed, &opentype.FaceOptions{Size: l.size, DPI: 72})
		}
		if err != nil {
			panic(fmt.Sprintf("draw: a font of the program cannot be read: %v", err))
		}
	}
	return r.faces[l]
}

// What a raster fills are closed outlines. A stroke is the sum of the boxes along its lines and of discs at its
// corners, all turning left about, so that where they overlap nothing cancels.

// stroked are the outlines of a line, round at its corners and, unless it is a dash, at its ends.
func stroked(line []Point, width float64, dash bool) [][]Point {
	var outlines [][]Point
	for i, b := range line {
		if i > 0 {
			outlines = append(outlines, bar(line[i-1], b, width))
		}
		if end := i == 0 || i == len(line)-1; width > 2 && !(end && dash) {
			outlines = append(outlines, circle(b, width/2))
		}
	}
	return outlines
}

func bar(a, b Point, width float64) []Point {
	n := (width / 2) / max(distance(a, b), 1e-9)
	x, y := (a.Y-b.Y)*n, (b.X-a.X)*n
	return []Point{{a.X + x, a.Y + y}, {b.X + x, b.Y + y}, {b.X - x, b.Y - y}, {a.X - x, a.Y - y}}
}

// circle is the outline of a disc, with corners near enough not to be seen.
func circle(center Point, radius float64) []Point {
	outline := make([]Point, max(8, min(48, int(radius*4))))
	for i := range outline {
		sin, cos := math.Sincos(-2 * math.Pi * float64(i) / float64(len(outline)))
		outline[i] = Point{center.X + radius*cos, center.Y + radius*sin}
	}
	return outline
}

// flattened is a path of bows, which are parabolas, as straight lines of about four pixels.
func flattened(points []Point) []Point {
	line := points[:1:1]
	for i := 0; i+2 < len(points); i += 2 {
		a, c, b := points[i], points[i+1], points[i+2]
		n := max(4, min(16, int(distance(a, b)/4)))
		for k := 1; k <= n; k++ {
			t := float64(k) / float64(n)
			line = append(line, toward(toward(a, c, t), toward(c, b, t), t))
		}
	}
	return line
}

// dashed cuts a line into dashes as long as the spaces between them; 0 leaves it whole.
func dashed(line []Point, dash float64) [][]Point {
	if dash <= 0 {
		return [][]Point{line}
	}
	dashes, left, on := [][]Point{{line[0]}}, dash, true
	for i, b := range line[1:] {
		a, length := line[i], distance(line[i], b)
		for length >= left {
			a = toward(a, b, left/length)
			if on {
				dashes[len(dashes)-1] = append(dashes[len(dashes)-1], a)
			} else {
				dashes = append(dashes, []Point{a})
			}
			on, left, length = !on, dash, distance(a, b)
		}
		if left -= length; on {
			dashes[len(dashes)-1] = append(dashes[len(dashes)-1], b)
		}
	}
	return dashes
}

func distance(a, b Point) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// fill paints closed outlines, worked out on just the pixels that show them; without a color it leaves them.
func (r *raster) fill(c *chart.Color, outlines ...[]Point) {
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, p := range slices.Concat(outlines...) {
		lo, hi = Point{min(lo.X, p.X), min(lo.Y, p.Y)}, Point{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	area := pixels(Point{lo.X - 1, lo.Y - 1}, Point{hi.X + 1, hi.Y + 1}).Intersect(r.clip)
	if c == nil || area.Empty() {
		return
	}
	filled, left, top := vector.NewRasterizer(area.Dx(), area.Dy()), float64(area.Min.X), float64(area.Min.Y)
	for _, outline := range outlines {
		filled.MoveTo(float32(outline[0].X-left), float32(outline[0].Y-top))
		for _, p := range outline[1:] {
			filled.LineTo(float32(p.X-left), float32(p.Y-top))
		}
		filled.ClosePath()
	}
	filled.Draw(r.picture, area, uniform(c), image.Point{})
}
