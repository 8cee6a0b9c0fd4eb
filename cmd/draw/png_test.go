package draw

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"slices"
	"testing"

	"strandwise/cmd/knitted"
	"strandwise/cmd/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

func TestPNGShowsEveryStitch(t *testing.T) {
	for _, name := range []string{"practice", "pier-panel"} {
		p := example(t, name, -1)
		k := WorkedPart(p, p.Review(nil))
		var first, again bytes.Buffer
		require.NoError(t, PNG(&first, Picture(k, Options{Side: RightSide})))
		require.NoError(t, PNG(&again, Picture(k, Options{Side: RightSide})))
		requirePicture(t, first.Bytes(), k)
		assert.True(t, bytes.Equal(first.Bytes(), again.Bytes()))
	}
}

// A picture of a large piece is drawn smaller, not refused.
func TestPNGStaysWithinItsPixels(t *testing.T) {
	s := &Scene{Width: 20_000, Height: 3000}
	var b bytes.Buffer
	require.NoError(t, PNG(&b, s))
	config, _, err := image.DecodeConfig(&b)
	require.NoError(t, err)
	assert.InDelta(t, mostPixels, config.Width*config.Height, mostPixels/100)
	assert.InDelta(t, 20.0/3, float64(config.Width)/float64(config.Height), 0.01)
}

func TestPNGKeepsWithinTheClip(t *testing.T) {
	s := &Scene{Width: 10, Height: 10}
	s.clipped(Point{2, 2}, 6, 6, func() { s.box("all", Point{0, 0}, 10, 10, Ink{Fill: &warningRed}) })
	s.disc("dot", Point{9, 9}, 0.6, Ink{Fill: &black})
	var b bytes.Buffer
	require.NoError(t, PNG(&b, s))
	img, _, err := image.Decode(&b)
	require.NoError(t, err)
	at := func(x, y float64) color.NRGBA {
		c, _ := color.NRGBAModel.Convert(img.At(int(x*finest), int(y*finest))).(color.NRGBA)
		return c
	}
	blank, warning := color.NRGBA{255, 255, 255, 255}, color.NRGBA{warningRed.R, warningRed.G, warningRed.B, 255}
	assert.Equal(t, blank, at(1.5, 5))
	assert.Equal(t, warning, at(2.5, 5))
	assert.Equal(t, warning, at(7.5, 7.5))
	assert.Equal(t, blank, at(8.5, 5))
	assert.Equal(t, black.R, at(9, 9).R)
}

func TestDashesCoverHalf(t *testing.T) {
	line := flattened([]Point{{0, 0}, {50, 40}, {100, 0}})
	covered := func(lines [][]Point) float64 {
		sum := 0.0
		for _, l := range lines {
			for i := 1; i < len(l); i++ {
				sum += math.Hypot(l[i].X-l[i-1].X, l[i].Y-l[i-1].Y)
			}
		}
		return sum
	}
	whole := covered([][]Point{line})
	assert.InDelta(t, whole/2, covered(dashed(line, 3)), 3)
	assert.Equal(t, whole, covered(dashed(line, 0)))
}

// Every letter the pictures and pages print by themselves is in the fonts that go into PNG
// and PDF. The names of yarns and pieces are the knitter's.
func TestFontsHaveOurLetters(t *testing.T) {
	letters := " !\"'(),-./:;0123456789?×–☐▲△←→…"
	for r := 'a'; r <= 'z'; r++ {
		letters += string(r) + string(r-32)
	}
	for _, data := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(data)
		require.NoError(t, err)
		for _, r := range letters {
			if slices.Contains(drawnNotLettered, r) {
				continue
			}
			glyph, err := f.GlyphIndex(nil, r)
			require.NoError(t, err)
			assert.NotZero(t, glyph, "%c", r)
		}
	}
}

// drawnNotLettered are signs that text has and the documents draw.
var drawnNotLettered = []rune("☐△")

// BenchmarkPictures draws the wrong side of a piece of 300 rounds of 240 stitches.
func BenchmarkPictures(b *testing.B) {
	k := knitted.Examples(b)["night-sea"]
	k.Setup.Parts[0].Repeats, k.Setup.Parts[0].Times, k.Rows, k.Even = 5, 7, 300, true
	p := k.Knit(b)
	var out bytes.Buffer
	for _, c := range []struct {
		name string
		draw func(k *Knitted) error
	}{
		{"svg", func(k *Knitted) error { return SVG(&out, Picture(k, Options{Side: WrongSide})) }},
		{"png", func(k *Knitted) error { return PNG(&out, Picture(k, Options{Side: WrongSide})) }},
		{"pdf", func(k *Knitted) error {
			return bookOf(&out, "night-sea", OnPaper(k, Options{Side: WrongSide}, paper.A4), paper.A4)
		}},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				out.Reset()
				if err := c.draw(WorkedPart(p, p.Review(nil))); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(out.Len())/1e6, "MB")
			b.ReportMetric(0, "ns/op")
			b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/op")
		})
	}
}
