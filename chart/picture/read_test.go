package picture

import (
	"image"
	"image/color"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	xdraw "golang.org/x/image/draw"
	"pgregory.net/rapid"

	"strandwise/chart"
)

// A blurred edge has its place where the sharp one was, to a tenth of a pixel.
func TestBlurredEdgesHaveTheirPlace(t *testing.T) {
	p := paper(image.Rect(0, 0, 120, 20))
	for _, x := range []int{30, 47, 90} {
		xdraw.Draw(p, image.Rect(x, 0, x+1, 20), image.Black, image.Point{}, xdraw.Src)
	}
	pixels := onCanvas(blurred(1.2)(p), 120, 20)
	search := newSearch(pixels, true, nil)
	peaks := search.x.peaks()
	middles := map[float64]float64{} // a line has an edge on each side; where they part, both count
	for _, at := range peaks {
		for _, x := range []float64{30.5, 47.5, 90.5} {
			if math.Abs(at.at-x) < 5 {
				middles[x] += at.energy * (at.at - x)
			}
		}
	}
	require.Len(t, middles, 3)
	for x, moment := range middles {
		assert.InDelta(t, 0, moment/peaks[0].energy, 0.1, x)
	}
}

// The same lossless picture with lines, scaled by 0.83, counts given: as many yarns as were
// drawn, not one for each color that scaling made.
func TestScalingMakesNoYarns(t *testing.T) {
	for _, c := range suiteGrids(15, 10) {
		data := asPNG(t, scaled(0.83, xdraw.BiLinear)(fine.picture(c)))
		got, report := importPicture(t, data, Options{Columns: c.Width(), Rows: c.Height()})
		assert.Len(t, got.Yarns, len(c.Yarns), "%d colors", report.Colors)
		assert.True(t, sameChart(c, got))
	}
}

// An uncropped scan in which no grid shows, its counts given: the margin is told of, and
// --crop finds the chart.
func TestCountsOverAMargin(t *testing.T) {
	c := suiteGrids(15, 1)[0]
	p := damaged(drawing{width: 6, height: 6}.picture(c), onPaper(40), blurred(3))
	counts := Options{Columns: c.Width(), Rows: c.Height()}
	_, report, err := Import(asJPEG(t, p, 60), counts)
	require.NoError(t, err)
	asks := strings.Join(report.Questions, "\n")
	assert.Contains(t, asks, "--crop")

	sharp := asJPEG(t, damaged(drawing{width: 14, height: 12}.picture(c), onPaper(40), blurred(1.5)), 80)
	counts.Crop = true
	got, _, err := Import(sharp, counts)
	require.NoError(t, err)
	assert.True(t, sameChart(c, got))
}

// More than one doubtful cell in twenty is asked about by its own sentence.
func TestManyDoubtfulCellsDoubtTheGrid(t *testing.T) {
	c := suiteGrids(15, 1)[0]
	data := asPNG(t, plain10.picture(c))
	_, report := importPicture(t, data, Options{Columns: c.Width() - 1, Rows: c.Height()})
	assert.Greater(t, report.Doubtful, c.Width()*c.Height()/20)
	assert.Contains(t, strings.Join(report.Questions, "\n"), "cells are doubtful: the cells may lie elsewhere")
}

// Transparent cells are no stitch, or the yarn that is said, by color, symbol or name; then no
// row is left out.
func TestTransparentCellsAreTheYarnThatIsSaid(t *testing.T) {
	p := image.NewNRGBA(image.Rect(0, 0, 4, 3))
	for x := range 4 {
		p.Set(x, 2, color.NRGBA{0x1F, 0x4E, 0x79, 255})
	}
	p.Set(1, 1, color.NRGBA{0xA0, 0x20, 0x20, 255})
	data := asPNG(t, p)
	for blank, want := range map[string][]string{
		"":        {"_x__", "...."},
		NoStitch:  {"_x__", "...."},
		"#EFE6D2": {"....", ".+..", "xxxx"},
		"ivory":   {"....", ".+..", "xxxx"},
		".":       {"....", ".x..", "...."},
		"x":       {"xxxx", "xxxx", "...."},
	} {
		got, report := importPicture(t, data, Options{Blank: blank})
		assert.Equal(t, want, grid(got), blank)
		asked := strings.Contains(strings.Join(report.Questions, "\n"), "--blank YARN")
		assert.Equal(t, blank == "", asked, blank)
	}
	got, _ := importPicture(t, data, Options{})
	byName, _ := importPicture(t, data, Options{Blank: got.Yarns[0].Name})
	assert.Equal(t, []string{"....", ".x..", "...."}, grid(byName))
	_, _, err := Import(data, Options{Blank: "tangerine dusk"})
	assert.ErrorContains(t, err, `no yarn found in the picture is "tangerine dusk"`)
}

// A picture of 64 pixels and less a side is one pixel a stitch, unless its pixels are blocks.
func TestSmallPicturesAreOnePixelAStitch(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 2))
	for range 200 {
		w, h := 12+r.IntN(53), 12+r.IntN(53)
		icon := image.NewNRGBA(image.Rect(0, 0, w, h))
		ink := []color.NRGBA{{200, 30, 40, 255}, {240, 230, 210, 255}, {30, 60, 120, 255}}
		for i := range w * h { // rings, as an icon has, with grain
			dx, dy := i%w-w/2, i/w-h/2
			icon.SetNRGBA(i%w, i/w, ink[(dx*dx+dy*dy)/(20+w)%3])
			if r.IntN(30) == 0 {
				icon.SetNRGBA(i%w, i/w, ink[r.IntN(3)])
			}
		}
		got, report := importPicture(t, asPNG(t, icon), Options{})
		require.Equal(t, []int{w, h}, []int{got.Width(), got.Height()}, report.Reading)
	}
}

// The level of the light is found to a few parts in a hundred.
func TestLightIsLeveled(t *testing.T) {
	c := suiteGrids(15, 1)[0]
	for _, share := range []float64{0.15, 0.3, 0.45} {
		got, report := importPicture(t, asJPEG(t, shaded(share)(scanned.picture(c)), 90), Options{})
		require.True(t, sameChart(c, got))
		for i, y := range got.Yarns {
			assert.Less(t, chart.DeltaE(y.Color.Lab(), nearestColor(c, y.Color).Lab()), 5.0, "%v %d", share, i)
		}
		assert.Contains(t, strings.Join(report.Notes, "\n"), "the light falls off by")
	}
}

func nearestColor(c *chart.Chart, to chart.Color) chart.Color {
	best := c.Yarns[0].Color
	for _, y := range c.Yarns {
		if chart.DeltaE(y.Color.Lab(), to.Lab()) < chart.DeltaE(best.Lab(), to.Lab()) {
			best = y.Color
		}
	}
	return best
}

// A turn of several degrees is more than is straightened: no reading of it is sure.
func TestFarTurnsAreNotSure(t *testing.T) {
	for _, degrees := range []float64{3, 7, 20, 45} {
		for _, c := range suiteGrids(15, 5) {
			got, said := judge(asPNG(t, damaged(scanned.picture(c), onPaper(60), turnedBy(degrees))), c)
			assert.NotEqual(t, unasked, got, "%v: %s", degrees, said)
		}
	}
}

// A chart put into a PNG or SVG comes out as it was, but for its comments; once a bit of the
// file is changed it does not.
func TestChartsCarriedByPictures(t *testing.T) {
	charts := goodCharts(t)
	rapid.Check(t, func(t *rapid.T) {
		c := charts[rapid.SampledFrom(slices.Sorted(maps.Keys(charts))).Draw(t, "chart")]
		want := *c
		want.Comments = nil
		plain := map[string][]byte{"PNG": onePixelPNG, "SVG": []byte("<svg viewBox=\"0 0 7 5\">\n<g/>\n</svg>\n")}
		for kind, picture := range plain {
			carrying := Enclose(picture, c)
			got, _ := importDrawn(carrying, "")
			require.NotNil(t, got, kind)
			require.Equal(t, want.String(), got.String(), kind)
			none, _ := importDrawn(picture, "")
			require.Nil(t, none, kind)
			at := rapid.IntRange(8, len(carrying)-8).Draw(t, "at")
			changed := append([]byte{}, carrying...)
			changed[at] ^= 1 << rapid.IntRange(0, 4).Draw(t, "bit")
			if other, _ := importDrawn(changed, ""); other != nil {
				require.Equal(t, want.String(), other.String(), "nothing that counts was changed")
			}
			require.NotPanics(t, func() { importDrawn(carrying[:at], "") })
		}
	})
}

var onePixelPNG = func() []byte {
	p := image.NewNRGBA(image.Rect(0, 0, 2, 2))
	return asPNG(new(testing.T), p)
}()

// Whatever is in a picture and whatever is said of it, it is read as a valid chart of the size
// that is told, or refused in one line.
func TestAnyPictureIsReadOrRefused(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 90).Draw(t, "w"), rapid.IntRange(1, 90).Draw(t, "h")
		p := image.NewNRGBA(image.Rect(0, 0, w, h))
		colors := rapid.IntRange(1, 6).Draw(t, "colors")
		cell, line := rapid.IntRange(1, 20).Draw(t, "cell"), rapid.IntRange(0, 2).Draw(t, "line")
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		alpha := []uint8{255, 255, 255, 0, 100, 200}[rapid.IntRange(0, 5).Draw(t, "alpha")]
		grain := rapid.IntRange(0, 3).Draw(t, "grain") * 20
		for i := range w * h {
			x, y := i%w, i/w
			k := (x/cell*7 + y/cell*13 + x/cell*y/cell) % colors
			c := color.NRGBA{uint8(k * 50), uint8(255 - k*40), uint8(k * k * 9), 255}
			if k == 0 {
				c.A = alpha
			}
			if x%cell < line || y%cell < line {
				c = grayInk
			}
			c.R += uint8(r.IntN(grain + 1))
			p.SetNRGBA(x, y, c)
		}
		o := Options{
			Columns: rapid.SampledFrom([]int{0, 0, 1, 5, w}).Draw(t, "columns"), Rows: rapid.SampledFrom([]int{0, 0, 1, 7, h}).Draw(t, "rows"),
			Yarns: rapid.IntRange(0, 4).Draw(t, "yarns"), Crop: rapid.Bool().Draw(t, "crop"), Blank: rapid.SampledFrom([]string{"", NoStitch, ".", "navy"}).Draw(t, "blank"),
		}
		data := asPNG(new(testing.T), p)
		if rapid.Bool().Draw(t, "JPEG") {
			data = asJPEG(new(testing.T), p, rapid.IntRange(20, 95).Draw(t, "quality"))
		}
		c, report, err := Import(data, o)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			return
		}
		require.NoError(t, c.Validate())
		require.Equal(t, [2]int{report.Columns, report.Rows}, [2]int{c.Width(), c.Height()})
	})
}
