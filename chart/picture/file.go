package picture

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	_ "image/gif" // read by image.Decode
	_ "image/jpeg"
	_ "image/png"
	"strings"

	"strandwise/chart"
)

// The largest picture decoded: a progressive JPEG takes up to 20 bytes a pixel, four-channel ones the most.
const (
	MaxPictureSide  = 4000
	MaxPictureBytes = 64 << 20
	maxCMYKPixels   = 8_000_000
)

type pictureFile struct {
	format string
	lossy  bool
	rough  bool // lossy, or of so many colors that it was scaled, blurred or photographed
	pixels *pixels
	notes  []string
}

// pixels gives the pixels of a picture; both coordinates count from 0, from the upper left.
type pixels struct {
	width, height int
	at            func(x, y int) color.NRGBA
}

// turned has the rows of the picture as columns.
func (p *pixels) turned() *pixels {
	return &pixels{p.height, p.width, func(x, y int) color.NRGBA { return p.at(y, x) }}
}

func (p *pixels) mirrored() *pixels {
	return &pixels{p.width, p.height, func(x, y int) color.NRGBA { return p.at(p.width-1-x, y) }}
}

func (p *pixels) cropped(to image.Rectangle) *pixels {
	return &pixels{to.Dx(), to.Dy(), func(x, y int) color.NRGBA { return p.at(x+to.Min.X, y+to.Min.Y) }}
}

// onCanvas is a picture of the size, transparent where it does not cover that, as the first of some animations.
func onCanvas(picture image.Image, width, height int) *pixels {
	canvas, is := picture.(*image.NRGBA)
	if size := image.Rect(0, 0, width, height); !is || canvas.Rect != size {
		canvas = image.NewNRGBA(size)
		draw.Draw(canvas, picture.Bounds(), picture, picture.Bounds().Min, draw.Src)
	}
	return &pixels{width, height, canvas.NRGBAAt}
}

var otherKinds = []struct{ name, magic string }{
	{"a BMP picture", "BM"},
	{"a TIFF picture", "II*\x00"},
	{"a TIFF picture", "MM\x00*"},
	{"a WebP picture", "RIFF"},
	{"a PDF file", "%PDF"},
	{"an SVG drawing, and not as strandwise chart draw wrote it", "<svg"},
	{"an XML file, perhaps an SVG drawing, and not as strandwise chart draw wrote it", "<?xml"},
	{"an archive", "PK\x03\x04"},
}

// decodePicture reads the size first, and the picture only when that is within bounds.
func decodePicture(data []byte) (*pictureFile, error) {
	if len(data) == 0 {
		return nil, errors.New("the picture file is empty; export the picture again")
	}
	if len(data) > MaxPictureBytes {
		return nil, fmt.Errorf("the picture file has %d bytes, more than %d; scale the picture down", len(data), MaxPictureBytes)
	}
	config, format, err := image.DecodeConfig(bytes.NewReader(data))
	format = strings.ToUpper(format)
	if errors.Is(err, image.ErrFormat) {
		return nil, noPicture(data)
	} else if err != nil {
		return nil, brokenPicture(format, err)
	}
	if err := pictureSize(config); err != nil {
		return nil, err
	}
	reader := bufio.NewReader(bytes.NewReader(data)) // read no farther than the picture goes
	picture, _, err := image.Decode(reader)
	if err != nil {
		return nil, brokenPicture(format, err)
	}
	f := &pictureFile{format: format, lossy: format == "JPEG", pixels: onCanvas(picture, config.Width, config.Height)}
	f.rough = f.lossy || manyColors(f.pixels)
	rest, _ := reader.Peek(2)
	switch {
	case format == "PNG" && animatedPNG(data):
		f.notes = []string{"the PNG is animated: only its still picture was read"}
	case format == "GIF" && animatedGIF(rest):
		f.notes = []string{"the GIF is animated: only its first picture was read"}
	}
	return f, nil
}

func noPicture(data []byte) error {
	for _, kind := range otherKinds {
		if bytes.HasPrefix(data, []byte(kind.magic)) {
			return fmt.Errorf("this is %s; save it as PNG, JPEG or GIF", kind.name)
		}
	}
	return errors.New("this is no PNG, JPEG or GIF picture; save it as one of them")
}

func brokenPicture(format string, err error) error {
	return fmt.Errorf("the %s picture is cut short or broken (%w); copy or export it again", format, err)
}

func pictureSize(config image.Config) error {
	switch w, h := config.Width, config.Height; {
	case w < 1 || h < 1:
		return fmt.Errorf("the picture has %d by %d pixels; there is nothing to read", w, h)
	case w == 1 && h == 1:
		return errors.New("the picture has one pixel only; there is no chart in it")
	case w > MaxPictureSide || h > MaxPictureSide:
		return fmt.Errorf("the picture has %d by %d pixels, at most %d by %d are read; crop it or scale it down", w, h, MaxPictureSide, MaxPictureSide)
	case config.ColorModel == color.CMYKModel && w*h > maxCMYKPixels:
		return fmt.Errorf("the picture has %d by %d pixels in four inks, which is too much; save it as RGB", w, h)
	}
	return nil
}

// animatedGIF looks behind the first picture for another, or its control block (GIF89a, appendix A).
func animatedGIF(rest []byte) bool {
	return bytes.HasPrefix(rest, []byte("\x2C")) || bytes.HasPrefix(rest, []byte("\x21\xF9"))
}

func animatedPNG(data []byte) bool {
	before, _, _ := bytes.Cut(data, []byte("IDAT"))
	return bytes.Contains(before, []byte("acTL"))
}

func manyColors(p *pixels) bool {
	seen := map[chart.Color]bool{}
	for y := range p.height {
		for x := range p.width {
			if seen[opaque(p.at(x, y))] = true; len(seen) > 64 {
				return true
			}
		}
	}
	return false
}
