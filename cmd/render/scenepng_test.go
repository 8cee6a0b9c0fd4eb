package render

import (
	"bytes"
	"image"
	"image/color"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

func TestPNGShowsEveryStitch(t *testing.T) {
	for _, name := range []string{"practice", "pier-panel"} {
		p := examplesKnitted(t)[name].knit(t)
		k := WorkedPart(p, p.Review(nil))
		var first, again bytes.Buffer
		require.NoError(t, ScenePNG(&first, Picture(k, PictureLook{Side: RightSide})))
		require.NoError(t, ScenePNG(&again, Picture(k, PictureLook{Side: RightSide})))
		requirePicture(t, first.Bytes(), k)
		assert.True(t, bytes.Equal(first.Bytes(), again.Bytes()))
	}
}

// A picture of a large piece is drawn smaller, not refused.
func TestPNGStaysWithinItsPixels(t *testing.T) {
	s := &Scene{Width: 20_000, Height: 3000}
	var b bytes.Buffer
	require.NoError(t, ScenePNG(&b, s))
	config, _, err := image.DecodeConfig(&b)
	require.NoError(t, err)
	assert.InDelta(t, mostPixels, config.Width*config.Height, mostPixels/100)
	assert.InDelta(t, 20.0/3, float64(config.Width)/float64(config.Height), 0.01)
}

func TestPNGKeepsWithinTheClip(t *testing.T) {
	s := &Scene{Width: 10, Height: 10}
	s.clip(2, 2, 6, 6)
	s.box("all", 0, 0, 10, 10, Ink{Fill: &inkWarning})
	s.unclip()
	s.disc("dot", 9, 9, 0.6, Ink{Fill: &inkBlack})
	var b bytes.Buffer
	require.NoError(t, ScenePNG(&b, s))
	img, _, err := image.Decode(&b)
	require.NoError(t, err)
	at := func(x, y float64) color.NRGBA {
		c, _ := color.NRGBAModel.Convert(img.At(int(x*finest), int(y*finest))).(color.NRGBA)
		return c
	}
	white, warning := color.NRGBA{255, 255, 255, 255}, color.NRGBA{inkWarning.R, inkWarning.G, inkWarning.B, 255}
	assert.Equal(t, white, at(1.5, 5))
	assert.Equal(t, warning, at(2.5, 5))
	assert.Equal(t, warning, at(7.5, 7.5))
	assert.Equal(t, white, at(8.5, 5))
	assert.Equal(t, inkBlack.R, at(9, 9).R)
}

func TestDashesCoverHalf(t *testing.T) {
	line := flattened([]Point{{0, 0}, {50, 40}, {100, 0}})
	covered := func(lines [][]Point) float64 {
		sum := 0.0
		for _, l := range lines {
			for i := 1; i < len(l); i++ {
				n := Point{l[i].X - l[i-1].X, l[i].Y - l[i-1].Y}
				sum += n.X*normal(Point{}, n).Y - n.Y*normal(Point{}, n).X
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

// pdfPages draws a document with pdftoppm, as gray pictures.
func pdfPages(t *testing.T, document []byte, options ...string) []string {
	t.Helper()
	lookFor(t, "pdftoppm")
	folder := t.TempDir()
	name := filepath.Join(folder, "document.pdf")
	require.NoError(t, os.WriteFile(name, document, 0o600))
	out, err := exec.Command("pdftoppm", append(append([]string{"-png"}, options...), name, filepath.Join(folder, "page"))...).CombinedOutput()
	require.NoError(t, err, string(out))
	require.Empty(t, string(out), "pdftoppm complains of nothing")
	pages, err := filepath.Glob(filepath.Join(folder, "page*.png"))
	require.NoError(t, err)
	return pages
}

func TestPDFOpensInPoppler(t *testing.T) {
	p := examplesKnitted(t)["tide-yoke"].knit(t)
	k := WorkedPart(p, p.Review(nil))
	for _, paper := range []Paper{A4, Letter} {
		var first, again bytes.Buffer
		scenes := PicturePages(k, PictureLook{Side: WrongSide}, paper)
		require.NoError(t, ScenePDF(&first, "tide-yoke", scenes, paper))
		require.NoError(t, ScenePDF(&again, "tide-yoke", PicturePages(k, PictureLook{Side: WrongSide}, paper), paper))
		require.True(t, bytes.Equal(first.Bytes(), again.Bytes()))
		pages := pdfPages(t, first.Bytes(), "-r", "30")
		assert.Len(t, pages, len(scenes), paper.Name)
	}
}

// A bow is the parabola that the other pictures have: from (10, 10) over (50, 50) to (90, 10)
// it comes through (50, 30), and through (30, 25) and (70, 25) on the way.
func TestBowsInPDFAreParabolas(t *testing.T) {
	s := &Scene{Width: 100, Height: 60}
	s.add(Shape{Kind: Bow, Points: []Point{{10, 10}, {50, 50}, {90, 10}}, Ink: Ink{Stroke: &inkBlack, Width: 4}})
	var b bytes.Buffer
	require.NoError(t, ScenePDF(&b, "bow", []*Scene{s}, A4))
	pages := pdfPages(t, b.Bytes(), "-r", "25.4") // a pixel for each mm
	require.Len(t, pages, 1)
	data, err := os.ReadFile(pages[0])
	require.NoError(t, err)
	img, _, err := image.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	dark := func(x, y int) bool {
		r, _, _, _ := img.At(int(margin)+x, int(margin)+y).RGBA()
		return r < 0x8000
	}
	for _, at := range []image.Point{{50, 30}, {30, 25}, {70, 25}} {
		assert.True(t, dark(at.X, at.Y), at)
		assert.False(t, dark(at.X, at.Y-5), at)
		assert.False(t, dark(at.X, at.Y+5), at)
	}
}

// A piece that fits goes on one page at the true shape of its stitches.
func TestSmallPiecesTakeOnePage(t *testing.T) {
	p := examplesKnitted(t)["pier-panel"].knit(t)
	scenes := PicturePages(WorkedPart(p, p.Review(nil)), PictureLook{Side: RightSide}, A4)
	require.Len(t, scenes, 1)
	width, height := A4.printable()
	assert.LessOrEqual(t, scenes[0].Width, width+0.5, "what is over is shrunk away")
	assert.LessOrEqual(t, scenes[0].Height, height+0.5)
}

// BenchmarkPictures draws the wrong side of a piece of 300 rounds of 240 stitches.
func BenchmarkPictures(b *testing.B) {
	k := examplesKnitted(b)["night-sea"]
	k.setup.Parts[0].Repeats, k.setup.Parts[0].Times, k.rows, k.even = 5, 7, 300, true
	p := k.knit(b)
	var out bytes.Buffer
	for _, c := range []struct {
		name string
		draw func(k *Knitted) error
	}{
		{"svg", func(k *Knitted) error { return SceneSVG(&out, Picture(k, PictureLook{Side: WrongSide})) }},
		{"png", func(k *Knitted) error { return ScenePNG(&out, Picture(k, PictureLook{Side: WrongSide})) }},
		{"pdf", func(k *Knitted) error {
			return ScenePDF(&out, "night-sea", PicturePages(k, PictureLook{Side: WrongSide}, A4), A4)
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
