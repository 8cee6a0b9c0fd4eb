package draw

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/chart/picture"
)

// exampleChart reads one of the project's own charts.
func exampleChart(t *testing.T, file string) *chart.Chart {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "examples", file))
	require.NoError(t, err)
	c, err := chart.Parse(file, text)
	require.NoError(t, err)
	return c
}

// sameStitches wants the same grid of colors; a picture knows neither names nor
// symbols nor how a stitch is worked, and without transparency it gives an empty
// cell a color of its own.
func sameStitches(t *testing.T, want, got *chart.Chart, near float64, transparent bool) {
	t.Helper()
	require.Equal(t, want.Height(), got.Height())
	require.Equal(t, want.Width(), got.Width())
	for row := 1; row <= want.Height(); row++ {
		a, b := want.Cells(row), got.Cells(row)
		for i := range a {
			if transparent {
				require.Equal(t, a[i].IsEmpty(), b[i].IsEmpty(), "row %d column %d", row, i+1)
			}
			if !a[i].IsEmpty() {
				d := chart.DeltaE(want.Yarns[a[i].Yarn].Color.Lab(), got.Yarns[b[i].Yarn].Color.Lab())
				require.LessOrEqual(t, d, near, "row %d column %d", row, i+1)
			}
		}
	}
}

func TestChartsDrawnAndImportedAgain(t *testing.T) {
	onePixel := Drawing{CellWidth: 1, CellHeight: 1}
	cells := Drawing{CellWidth: 12, CellHeight: 10, Lines: true}
	files, err := filepath.Glob("../../examples/*.chart")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		c := exampleChart(t, filepath.Base(file))
		for name, d := range map[string]Drawing{"one pixel a stitch": onePixel, "cells with lines": cells} {
			t.Run(filepath.Base(file)+" "+name, func(t *testing.T) {
				var drawn bytes.Buffer
				require.NoError(t, PNG(&drawn, Chart(c, d)))
				got, report, err := picture.Import(drawn.Bytes(), picture.Options{})
				require.NoError(t, err)
				assert.Zero(t, report.Doubtful)
				sameStitches(t, c, got, 0, true)
			})
		}
		t.Run(filepath.Base(file)+" JPEG", func(t *testing.T) {
			got, _, err := picture.Import(asJPEG(t, c, cells), picture.Options{CellWidth: 12, CellHeight: 10})
			require.NoError(t, err)
			if !hasEmpty(c) {
				assert.Len(t, got.Yarns, len(c.Yarns))
			}
			sameStitches(t, c, got, 5, false)
		})
	}
}

func asJPEG(t *testing.T, c *chart.Chart, d Drawing) []byte {
	t.Helper()
	var drawn, lossy bytes.Buffer
	require.NoError(t, PNG(&drawn, Chart(c, d)))
	picture, err := png.Decode(&drawn)
	require.NoError(t, err)
	require.NoError(t, jpeg.Encode(&lossy, picture, &jpeg.Options{Quality: 85}))
	return lossy.Bytes()
}

func hasEmpty(c *chart.Chart) bool {
	for row := 1; row <= c.Height(); row++ {
		for _, cell := range c.Cells(row) {
			if cell.IsEmpty() {
				return true
			}
		}
	}
	return false
}

// TestPNGHasTheYarnsColors looks at the middle of every cell of a numbered drawing.
func TestPNGHasTheYarnsColors(t *testing.T) {
	c := exampleChart(t, "lantern-band.chart")
	d := Drawing{CellWidth: 14, CellHeight: 13, Lines: true, Numbers: true}
	var out bytes.Buffer
	require.NoError(t, PNG(&out, Chart(c, d)))
	picture, err := png.Decode(bytes.NewReader(out.Bytes()))
	require.NoError(t, err)
	s := Chart(c, d)
	assert.Equal(t, image.Pt(int(s.Width), int(s.Height)), picture.Bounds().Size())
	right := pad + (len(fmt.Sprint(c.Height()))*letter*2/3 + pad) + c.Width()*d.CellWidth // behind the gutter
	for row := 1; row <= c.Height(); row++ {
		for i, cell := range c.Cells(row) {
			r, g, b, _ := picture.At(right-(i+1)*d.CellWidth+7, pad+(c.Height()-row)*d.CellHeight+6).RGBA()
			assert.Equal(t, c.Yarns[cell.Yarn].Color, chart.Color{R: uint8(r >> 8), G: uint8(g >> 8), B: uint8(b >> 8)}, "row %d, column %d", row, i+1)
		}
	}
	var again bytes.Buffer
	require.NoError(t, PNG(&again, Chart(c, d)))
	assert.Equal(t, out.Bytes(), again.Bytes())
}

func TestSVGIsWellFormedWhateverTheNames(t *testing.T) {
	c := exampleChart(t, "tide-yoke.chart")
	c.Title = `Tides & <"piers">`
	c.Yarns[0].Name = "fjord & <foam>"
	var out bytes.Buffer
	require.NoError(t, SVG(&out, Chart(c, Drawing{CellWidth: 14, CellHeight: 12, Lines: true, Numbers: true})))
	all := readSVG(t, out.Bytes())
	area, text := 0.0, ""
	for _, e := range ofClass(all, "stitches") {
		area += e.length(t, "width") * e.length(t, "height")
	}
	for _, e := range all {
		text += e.text
	}
	stitches := 0
	for _, n := range c.StitchCounts() {
		stitches += n
	}
	assert.InDelta(t, stitches*14*12, area, 1e-6, "every stitch is there, and no place without one")
	assert.Len(t, ofClass(all, "grid"), c.Width()+1+c.Height()+1)
	assert.Contains(t, text, c.Title)
	assert.Contains(t, text, c.Yarns[0].Name)
	assert.Contains(t, text, "k2tog")
}

func TestPicturesThatWouldBeTooLarge(t *testing.T) {
	c := exampleChart(t, "night-sea.chart")
	var large *TooLargeError
	require.ErrorAs(t, PNG(io.Discard, Chart(c, Drawing{CellWidth: 1000, CellHeight: 1000})), &large)
	assert.Equal(t, "a picture of 48000 by 48000 pixels is larger than 40 million", large.Error())
}

func TestCellsHaveTheShapeOfTheGauge(t *testing.T) {
	w, h := CellFor(14, 100/22., 100/24.)
	assert.Equal(t, []int{14, 13}, []int{w, h})
	w, h = CellFor(14, 100/20., 100/30.)
	assert.Equal(t, []int{14, 9}, []int{w, h})
	for _, c := range []struct {
		width, height float64
		chars         int
	}{{1, 1, 2}, {1, 2, 1}, {2, 1, 4}, {1.5, 1, 3}, {24, 22, 2}} {
		assert.Equal(t, c.chars, CharsFor(c.width, c.height), c)
	}
}

func TestSignsFitEveryTechnique(t *testing.T) {
	for technique := chart.Purl; technique <= chart.Kfb; technique++ {
		require.NotEmpty(t, stitchStrokes[technique], technique)
		for _, stroke := range stitchStrokes[technique] {
			for _, p := range stroke {
				assert.True(t, p.X > 0 && p.X < 1 && p.Y > 0 && p.Y < 1, technique)
			}
		}
	}
	assert.Equal(t, "<&>", strings.NewReplacer("&lt;", "<", "&gt;", ">", "&amp;", "&").Replace(escaped("<&>")))
}
