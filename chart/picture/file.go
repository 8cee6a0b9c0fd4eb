package picture

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"io"
)

// The largest picture that is decoded. A progressive JPEG takes up to 20 bytes a
// pixel while it is read, four-channel ones the most.
const (
	MaxPictureSide  = 4000
	MaxPictureBytes = 64 << 20
	maxCMYKPixels   = 8_000_000
)

// pictureFile is a decoded picture.
type pictureFile struct {
	format string
	lossy  bool
	rough  bool // lossy, or of so many colors that it was scaled, blurred or photographed
	pixels *pixels
	notes  []string
}

// pictureKinds are the kinds of picture that are read, by how the file begins.
var pictureKinds = []struct {
	format, magic string
	lossy         bool
	config        func(io.Reader) (image.Config, error)
	decode        func(io.Reader) (image.Image, error)
}{
	{"PNG", "\x89PNG\r\n\x1a\n", false, png.DecodeConfig, png.Decode},
	{"JPEG", "\xFF\xD8", true, jpeg.DecodeConfig, jpeg.Decode},
	{"GIF", "GIF8", false, gif.DecodeConfig, gif.Decode},
}

// otherKinds are files taken for pictures that are read in no case.
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

// decodePicture reads the size of a picture first and the picture only when that
// is within bounds.
func decodePicture(data []byte) (*pictureFile, error) {
	if len(data) == 0 {
		return nil, errors.New("the picture file is empty; export the picture again")
	}
	if len(data) > MaxPictureBytes {
		return nil, fmt.Errorf("the picture file has %d bytes, more than %d; scale the picture down", len(data), MaxPictureBytes)
	}
	for _, kind := range pictureKinds {
		if !bytes.HasPrefix(data, []byte(kind.magic)) {
			continue
		}
		config, err := kind.config(bytes.NewReader(data))
		if err != nil {
			return nil, brokenPicture(kind.format, err)
		}
		if err := pictureSize(config); err != nil {
			return nil, err
		}
		picture, err := kind.decode(bytes.NewReader(data))
		if err != nil {
			return nil, brokenPicture(kind.format, err)
		}
		return &pictureFile{
			format: kind.format, lossy: kind.lossy,
			pixels: newPixels(picture, config.Width, config.Height), notes: pictureNotes(kind.format, data),
		}, nil
	}
	for _, kind := range otherKinds {
		if bytes.HasPrefix(data, []byte(kind.magic)) {
			return nil, fmt.Errorf("this is %s; save it as PNG, JPEG or GIF", kind.name)
		}
	}
	return nil, errors.New("this is no PNG, JPEG or GIF picture; save it as one of them")
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

// pictureNotes says what of the file was not read.
func pictureNotes(format string, data []byte) []string {
	switch {
	case format == "GIF" && gifFrames(data) > 1:
		return []string{"the GIF is animated: only its first picture was read"}
	case format == "PNG" && animatedPNG(data):
		return []string{"the PNG is animated: only its still picture was read"}
	}
	return nil
}

// gifFrames counts the pictures of a GIF file, up to 2, by walking its blocks
// (GIF89a specification, appendix A) without decoding any.
func gifFrames(data []byte) int {
	const header = 13
	if len(data) < header {
		return 0
	}
	at, frames := header+gifTable(data[10]), 0
	for at < len(data) && frames < 2 {
		switch data[at] {
		case 0x21: // an extension: its label, then sub-blocks
			at = skipSubBlocks(data, at+2)
		case 0x2C: // a picture: its place, a table of colors, the code size, sub-blocks
			if at+9 >= len(data) {
				return frames
			}
			frames++
			at = skipSubBlocks(data, at+11+gifTable(data[at+9]))
		default:
			return frames
		}
	}
	return frames
}

// gifTable is the size in bytes of the table of colors that a packed field
// announces.
func gifTable(packed byte) int {
	if packed&0x80 == 0 {
		return 0
	}
	return 3 << (packed&7 + 1)
}

func skipSubBlocks(data []byte, at int) int {
	for at < len(data) && data[at] != 0 {
		at += int(data[at]) + 1
	}
	return at + 1
}

// animatedPNG looks for an animation chunk before the picture data.
func animatedPNG(data []byte) bool {
	const signature, frame = 8, 12 // frame: length, name and checksum of a chunk
	for at := signature; at+8 <= len(data); {
		switch string(data[at+4 : at+8]) {
		case "acTL":
			return true
		case "IDAT":
			return false
		}
		at += frame + int(binary.BigEndian.Uint32(data[at:])&0x7FFFFFFF)
	}
	return false
}
