package picture

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"image/png"
	"math/rand/v2"
	"strings"
	"testing"

	"strandwise/chart"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The kinds of picture files all give the same chart.
func TestPictureKinds(t *testing.T) {
	c := goodCharts(t)["lamp-room.chart"]
	picture := drawing{width: 1, height: 1}.picture(c)
	colors := color.Palette{color.NRGBA{}}
	for _, y := range c.Yarns {
		colors = append(colors, color.NRGBA{y.Color.R, y.Color.G, y.Color.B, 255})
	}
	redrawn := func(to draw.Image) image.Image {
		draw.Draw(to, to.Bounds(), picture, image.Point{}, draw.Src)
		return to
	}
	moved := image.NewNRGBA(picture.Bounds().Add(image.Pt(7, 9)))
	draw.Draw(moved, moved.Bounds(), picture, image.Point{}, draw.Src)
	kinds := map[string][]byte{
		"8 bit":   asPNG(t, picture),
		"16 bit":  asPNG(t, redrawn(image.NewNRGBA64(picture.Bounds()))),
		"palette": asPNG(t, redrawn(image.NewPaletted(picture.Bounds(), colors))),
		"moved":   asPNG(t, moved),
		"GIF":     asGIF(t, picture, colors),
	}
	for name, data := range kinds {
		t.Run(name, func(t *testing.T) {
			got, report := importPicture(t, data, Options{Title: "Lamp room"})
			requireSameColors(t, c, got, 0, false)
			assert.Empty(t, report.Notes)
			assert.Equal(t, "Lamp room", got.Title)
			assert.Equal(t, 3, report.Colors)
		})
	}
}

func TestGrayPictures(t *testing.T) {
	for name, p := range map[string]draw.Image{
		"8 bit":  image.NewGray(image.Rect(0, 0, 4, 2)),
		"16 bit": image.NewGray16(image.Rect(0, 0, 4, 2)),
	} {
		t.Run(name, func(t *testing.T) {
			p.Set(0, 0, color.White)
			got, _ := importPicture(t, asPNG(t, p), Options{})
			assert.Equal(t, []string{"x...", "...."}, grid(got))
			assert.Equal(t, "yarn: . black #000000\nyarn: x white #FFFFFF\n", header(got)[strings.Index(header(got), "yarn"):])
		})
	}
}

func TestTransparentPixels(t *testing.T) {
	p := image.NewNRGBA(image.Rect(0, 0, 3, 5))
	for y := 1; y < 4; y++ {
		p.Set(1, y, color.NRGBA{200, 0, 0, 255})
	}
	p.Set(0, 1, color.NRGBA{200, 0, 0, 127})
	p.Set(2, 3, color.NRGBA{200, 0, 0, 128})
	got, report := importPicture(t, asPNG(t, p), Options{})
	assert.Equal(t, []string{"_._", "_._", "_.."}, grid(got))
	assert.Equal(t, []string{"rows without a stitch left out: 1 at the top, 1 at the bottom"}, report.Notes)
	assert.Equal(t, []Place{{3, 3}, {1, 1}}, report.Places)
	assert.Equal(t, 2, report.Doubtful)
}

func animation(t *testing.T) []byte {
	t.Helper()
	colors := color.Palette{color.Black, color.White}
	first := image.NewPaletted(image.Rect(0, 0, 4, 4), colors)
	first.SetColorIndex(1, 1, 1)
	second := image.NewPaletted(image.Rect(1, 1, 3, 3), colors)
	var b bytes.Buffer
	require.NoError(t, gif.EncodeAll(&b, &gif.GIF{Image: []*image.Paletted{first, second}, Delay: []int{5, 5}}))
	return b.Bytes()
}

func TestAnimatedPictures(t *testing.T) {
	got, report := importPicture(t, animation(t), Options{})
	assert.Equal(t, []string{"the GIF is animated: only its first picture was read"}, report.Notes)
	assert.Equal(t, []string{"....", ".x..", "....", "...."}, grid(got))

	still := asPNG(t, drawing{width: 1, height: 1}.picture(drawn(t, "rows:", ".x")))
	assert.False(t, animatedPNG(still))
	control := []byte("\x00\x00\x00\x08acTL\x00\x00\x00\x01\x00\x00\x00\x00\x3b\xb9\xa5\xd3")
	assert.True(t, animatedPNG(append(append(bytes.Clone(still[:33]), control...), still[33:]...)))
}

// header of a PNG that claims a size, with nothing behind it.
func claimedPNG(t *testing.T, w, h int) []byte {
	t.Helper()
	data := asPNG(t, image.NewGray(image.Rect(0, 0, 1, 1)))
	head := bytes.Clone(data[:8+8+13])
	copy(head[16:], []byte{byte(w >> 24), byte(w >> 16), byte(w >> 8), byte(w), byte(h >> 24), byte(h >> 16), byte(h >> 8), byte(h)})
	return binary.BigEndian.AppendUint32(head, crc32.ChecksumIEEE(head[12:]))
}

// noise is a picture of random pixels in which every color occurs.
func noise(w, h, colors int) *image.NRGBA {
	random := rand.New(rand.NewPCG(1, 2))
	p := image.NewNRGBA(image.Rect(0, 0, w, h))
	ink := make([]color.NRGBA, colors)
	for i := range ink {
		ink[i] = color.NRGBA{uint8(random.IntN(256)), uint8(random.IntN(256)), uint8(random.IntN(256)), 255}
	}
	for y := range h {
		for x := range w {
			i := y*w + x
			if i >= colors {
				i = random.IntN(colors)
			}
			p.SetNRGBA(x, y, ink[i])
		}
	}
	return p
}

func TestBadPictures(t *testing.T) {
	good := asPNG(t, noise(40, 40, 3))
	photo := asJPEG(t, noise(40, 40, 3), 85)
	moving := animation(t)
	hollow := image.NewNRGBA(image.Rect(0, 0, 3, 3))
	hollow.Set(0, 0, color.Black)
	hollow.Set(0, 2, color.Black)
	broken := bytes.Clone(good)
	broken[len(broken)/2] ^= 0x55
	cases := map[string]struct {
		data    []byte
		options Options
		want    string
	}{
		"empty file":        {nil, Options{}, "is empty"},
		"text":              {[]byte("title: Harbor lights\n"), Options{}, "no PNG, JPEG or GIF"},
		"BMP":               {[]byte("BM\x00\x00\x00\x00"), Options{}, "this is a BMP picture; save it as PNG"},
		"TIFF":              {[]byte("II*\x00\x08\x00"), Options{}, "TIFF"},
		"WebP":              {[]byte("RIFF\x00\x00\x00\x00WEBPVP8 "), Options{}, "WebP"},
		"PDF":               {[]byte("%PDF-1.7\n"), Options{}, "PDF"},
		"SVG":               {[]byte("<svg xmlns='x'/>"), Options{}, "SVG"},
		"archive":           {[]byte("PK\x03\x04"), Options{}, "archive"},
		"PNG signature":     {good[:8], Options{}, "cut short"},
		"PNG header only":   {good[:33], Options{}, "cut short"},
		"PNG cut":           {good[:len(good)/2], Options{}, "cut short"},
		"PNG broken":        {broken, Options{}, "cut short or broken"},
		"JPEG cut":          {photo[:len(photo)/2], Options{}, "cut short"},
		"JPEG start only":   {photo[:3], Options{}, "JPEG picture is cut short"},
		"GIF cut":           {moving[:20], Options{}, "cut short"},
		"GIF version":       {[]byte("GIF80a\x01\x00\x01\x00\x00\x00\x00"), Options{}, "GIF picture is cut short or broken"},
		"one pixel":         {asPNG(t, noise(1, 1, 1)), Options{}, "one pixel only"},
		"no pixel":          {claimedPNG(t, 0, 5), Options{}, "or broken"},
		"20000 wide":        {claimedPNG(t, 20000, 10), Options{}, "20000 by 10 pixels, at most 4000 by 4000"},
		"bomb":              {claimedPNG(t, 2000000000, 2000000000), Options{}, "PNG picture is cut short or broken"},
		"300 colors":        {asPNG(t, noise(40, 40, 300)), Options{}, "clearly apart"},
		"photograph":        {asPNG(t, noise(300, 200, 5000)), Options{}, "too many colors to be one pixel a stitch"},
		"JPEG without grid": {photo, Options{}, "a JPEG cannot be read pixel by pixel"},
		"all transparent":   {asPNG(t, image.NewNRGBA(image.Rect(0, 0, 5, 5))), Options{}, "no stitch in it"},
		"hollow":            {asPNG(t, hollow), Options{}, "line 2 of 3 from the top has only empty cells"},
		"too many columns":  {asPNG(t, noise(2500, 3, 2)), Options{}, "2500 columns and 3 rows"},
		"part of a cell":    {good, Options{CellWidth: 12, CellHeight: 10}, "40 pixels wide, which is 3.3 cells of 12"},
		"cell too large":    {good, Options{CellWidth: 41, CellHeight: 10}, "1.0 cells of 41"},
		"more than pixels":  {good, Options{Columns: 41, Rows: 5}, "41 columns do not fit in 40 pixels"},
		"rows missing":      {good, Options{Columns: 20}, "give --row-count too"},
		"half a cell size":  {good, Options{CellWidth: 4}, "a width and a height"},
		"cell and columns":  {good, Options{CellWidth: 4, CellHeight: 4, Rows: 10}, "not both"},
		"negative":          {good, Options{Rows: -1}, "negative"},
		"too many yarns":    {good, Options{Yarns: 17}, "at most 16"},
		"columns over":      {good, Options{Columns: 2001, Rows: 1}, "at most 2000"},
		"bad title":         {good, Options{Title: "two\nlines"}, "no colon"},
	}
	for name, tc := range cases {
		t.Run(name, func(t *testing.T) {
			c, report, err := Import(tc.data, tc.options)
			require.ErrorContains(t, err, tc.want)
			assert.Nil(t, c)
			assert.Nil(t, report)
			if name != "bad title" {
				assert.NotContains(t, err.Error(), "\n", "one line")
			}
		})
	}
}

func TestGatheringWantedYarns(t *testing.T) {
	data := asPNG(t, noise(40, 40, 300))
	for _, n := range []int{1, 2, 5, 16} {
		c, report := importPicture(t, data, Options{Yarns: n})
		assert.Len(t, c.Yarns, n)
		assert.Equal(t, 300, report.Colors)
		assert.Positive(t, report.Doubtful)
		assert.Len(t, report.Places, min(report.Doubtful, 50))
	}
	c, report := importPicture(t, asPNG(t, noise(40, 40, 3)), Options{Yarns: 5})
	assert.Len(t, c.Yarns, 3)
	assert.Equal(t, []string{"only 3 colors differ enough for a yarn each"}, report.Notes)
}

// Cells where colors mix are doubtful, and only they.
func TestDoubtfulCells(t *testing.T) {
	c := drawn(t, "rows:", "..xx..xx", ".x.x.x.x", "xx..xx..", "x.x.x..x")
	p := drawing{width: 12, height: 10, line: 1, lineColor: grayInk, frame: true}.picture(c)
	draw.Draw(p, image.Rect(1, 1, 7, 11), image.Black, image.Point{}, draw.Src)
	_, report := importPicture(t, asPNG(t, p), Options{Yarns: 2})
	assert.Equal(t, []Place{{4, 8}}, report.Places)
}

// A picture scaled by no whole number still shows its grid.
func TestScaledPicture(t *testing.T) {
	c := goodCharts(t)["tide-steps.chart"]
	small := drawing{width: 1, height: 1}.picture(c)
	p := image.NewNRGBA(image.Rect(0, 0, 387, 178)) // 14.9 by 14.8 pixels a cell
	for y := range 178 {
		for x := range 387 {
			p.Set(x, y, small.At(x*c.Width()/387, y*c.Height()/178))
		}
	}
	got, report := importPicture(t, asPNG(t, p), Options{})
	assert.Equal(t, Blocks, report.Reading)
	requireSameColors(t, c, got, 0, false)
}

// A thousand by a thousand stitches are read in less than three seconds.
func FuzzImportPicture(f *testing.F) {
	p := noise(5, 4, 3)
	f.Add(asPNG(f, p), 0, 0)
	f.Add(asJPEG(f, p, 85), 5, 4)
	f.Add(asGIF(f, p, color.Palette{color.Black, color.White}), 2, 2)
	f.Add([]byte("GIF89a\x01\x00\x01\x00\x80\x00\x00"), 0, 0)
	f.Fuzz(func(t *testing.T, data []byte, columns, rows int) {
		if config, _, err := image.DecodeConfig(bytes.NewReader(data)); err == nil && config.Width*config.Height > 1<<16 {
			return // slow, and no other code
		}
		c, report, err := Import(data, Options{Columns: columns, Rows: rows, Yarns: 4})
		requireWhole(t, c, report, err)
	})
}

// requireWhole holds that what was read is a chart of the size reported, or refused in one line.
func requireWhole(t *testing.T, c *chart.Chart, report *Report, err error) {
	t.Helper()
	if err != nil {
		require.NotContains(t, err.Error(), "\n")
		return
	}
	require.NoError(t, c.Validate())
	require.Equal(t, report.Columns, c.Width())
	require.Equal(t, report.Rows, c.Height())
}

func BenchmarkImportPicture(b *testing.B) {
	var buffer bytes.Buffer
	require.NoError(b, png.Encode(&buffer, noise(1000, 1000, 8)))
	for b.Loop() {
		_, _, err := Import(buffer.Bytes(), Options{})
		require.NoError(b, err)
	}
}
