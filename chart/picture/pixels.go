package picture

import (
	"image"
	"image/color"
)

// pixels gives the pixels of a decoded picture as 8-bit colors with their
// opacity, without a second copy of it. Both coordinates count from 0, from the
// upper left.
type pixels struct {
	width, height int
	at            func(x, y int) color.NRGBA
}

// newPixels wraps a picture. Width and height are those of the canvas; where the
// picture does not cover it (the first frame of some animations) it is
// transparent.
func newPixels(picture image.Image, width, height int) *pixels {
	at := reader(picture)
	bounds := picture.Bounds()
	if bounds != image.Rect(0, 0, width, height) {
		whole := at
		at = func(x, y int) color.NRGBA {
			if !(image.Point{X: x, Y: y}).In(bounds) {
				return color.NRGBA{}
			}
			return whole(x, y)
		}
	}
	return &pixels{width, height, at}
}

// cropped is a part of the picture.
func (p *pixels) cropped(to image.Rectangle) *pixels {
	at := func(x, y int) color.NRGBA { return p.at(x+to.Min.X, y+to.Min.Y) }
	return &pixels{to.Dx(), to.Dy(), at}
}

// reader is the fastest way to a pixel of the picture; the last one does for all
// kinds, 16-bit ones among them.
func reader(picture image.Image) func(x, y int) color.NRGBA {
	switch p := picture.(type) {
	case *image.NRGBA:
		return p.NRGBAAt
	case *image.RGBA: // a PNG without transparency
		return func(x, y int) color.NRGBA {
			c := p.RGBAAt(x, y)
			if c.A == 255 {
				return color.NRGBA(c)
			}
			return color.NRGBAModel.Convert(c).(color.NRGBA)
		}
	case *image.YCbCr:
		return func(x, y int) color.NRGBA {
			c := p.YCbCrAt(x, y)
			r, g, b := color.YCbCrToRGB(c.Y, c.Cb, c.Cr)
			return color.NRGBA{R: r, G: g, B: b, A: 255}
		}
	case *image.Paletted:
		palette := make([]color.NRGBA, 256)
		for i, c := range p.Palette {
			palette[i] = color.NRGBAModel.Convert(c).(color.NRGBA)
		}
		return func(x, y int) color.NRGBA { return palette[p.ColorIndexAt(x, y)] }
	case *image.Gray:
		return func(x, y int) color.NRGBA {
			v := p.GrayAt(x, y).Y
			return color.NRGBA{R: v, G: v, B: v, A: 255}
		}
	}
	return func(x, y int) color.NRGBA {
		return color.NRGBAModel.Convert(picture.At(x, y)).(color.NRGBA)
	}
}
