package draw

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"strandwise/chart"
)

// MaxPicturePixels bounds the pictures that are drawn: 4 bytes a pixel are held.
const MaxPicturePixels = 40_000_000

// TooLargeError tells that a picture would have more than MaxPicturePixels.
type TooLargeError struct{ Width, Height int }

func (e *TooLargeError) Error() string {
	return fmt.Sprintf("a picture of %d by %d pixels is larger than %d million", e.Width, e.Height, MaxPicturePixels/1_000_000)
}

// ChartPNG draws a chart as PNG; every stitch has exactly the color of its yarn, and
// an empty cell of a bare drawing is transparent. The same chart gives the same
// bytes. The error is a *TooLargeError or that of w.
func ChartPNG(w io.Writer, c *chart.Chart, d Drawing) error {
	s := sceneOf(c, d)
	if s.width > MaxPicturePixels/s.height {
		return &TooLargeError{s.width, s.height}
	}
	picture := image.NewNRGBA(image.Rect(0, 0, s.width, s.height))
	if !s.bare {
		draw.Draw(picture, picture.Bounds(), image.White, image.Point{}, draw.Src)
	}
	for _, t := range s.tiles {
		draw.Draw(picture, image.Rect(t.x, t.y, t.x+t.w, t.y+t.h), image.NewUniform(ink(t.color)), image.Point{}, draw.Src)
	}
	for _, l := range s.strokes {
		strokeOn(picture, l)
	}
	if err := labelsOn(picture, s.labels); err != nil {
		return err
	}
	return png.Encode(w, picture)
}

func ink(c chart.Color) color.NRGBA { return color.NRGBA{c.R, c.G, c.B, 255} }

// strokeOn paints a stroke as a thin rectangle along it.
func strokeOn(picture draw.Image, l chartStroke) {
	dx, dy := l.x2-l.x1, l.y2-l.y1
	length := max(1e-9, math.Hypot(dx, dy))
	nx, ny := -dy/length*l.width/2, dx/length*l.width/2
	area := image.Rect(int(min(l.x1, l.x2)-l.width)-1, int(min(l.y1, l.y2)-l.width)-1, int(max(l.x1, l.x2)+l.width)+2, int(max(l.y1, l.y2)+l.width)+2)
	r := vector.NewRasterizer(area.Dx(), area.Dy())
	at := func(x, y float64) (float32, float32) {
		return float32(x - float64(area.Min.X)), float32(y - float64(area.Min.Y))
	}
	r.MoveTo(at(l.x1+nx, l.y1+ny))
	r.LineTo(at(l.x2+nx, l.y2+ny))
	r.LineTo(at(l.x2-nx, l.y2-ny))
	r.LineTo(at(l.x1-nx, l.y1-ny))
	r.ClosePath()
	r.Draw(picture, area, image.NewUniform(ink(l.color)), image.Point{})
}

// labelsOn writes the labels in Go Regular.
func labelsOn(picture draw.Image, labels []chartLabel) error {
	if len(labels) == 0 {
		return nil
	}
	parsed, err := opentype.Parse(goregular.TTF)
	if err != nil {
		return err
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: labels[0].size, DPI: 72})
	if err != nil {
		return err
	}
	defer face.Close()
	for _, l := range labels {
		d := font.Drawer{Dst: picture, Src: image.Black, Face: face}
		x := fixed.Int26_6(l.x * 64)
		switch width := d.MeasureString(l.text); l.anchor {
		case "end":
			x -= width
		case "middle":
			x -= width / 2
		}
		d.Dot = fixed.Point26_6{X: x, Y: fixed.Int26_6(l.y * 64)}
		d.DrawString(l.text)
	}
	return nil
}
