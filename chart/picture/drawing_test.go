package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// drawing says how a test draws a chart as a picture.
type drawing struct {
	width, height int         // of a cell, without the line
	line          int         // pixels between cells; 0 for none
	lineColor     color.NRGBA //
	frame         bool        // a line around the whole too
	margin        int         // pixels of margin color around
}

var (
	marginColor = color.NRGBA{255, 255, 255, 255}
	grayInk     = color.NRGBA{120, 120, 120, 255}
	paleGray    = color.NRGBA{200, 200, 200, 255}
	black       = color.NRGBA{0, 0, 0, 255}
)

// picture draws the yarn color of each cell, top row first; empty cells stay
// transparent.
func (d drawing) picture(c *chart.Chart) *image.NRGBA {
	outer := 0
	if d.frame {
		outer = d.line
	}
	size := func(cells, cell int) int { return 2*(d.margin+outer) + cells*cell + (cells-1)*d.line }
	w, h := size(c.Width(), d.width), size(c.Height(), d.height)
	p := image.NewNRGBA(image.Rect(0, 0, w, h))
	if d.margin > 0 {
		draw.Draw(p, p.Bounds(), image.NewUniform(marginColor), image.Point{}, draw.Src)
	}
	draw.Draw(p, p.Bounds().Inset(d.margin), image.NewUniform(d.lineColor), image.Point{}, draw.Src)
	for row := 1; row <= c.Height(); row++ {
		for column, cell := range c.Cells(row) {
			x := d.margin + outer + (c.Width()-1-column)*(d.width+d.line)
			y := d.margin + outer + (c.Height()-row)*(d.height+d.line)
			fill := color.NRGBA{}
			if !cell.IsEmpty() {
				yarn := c.Yarns[cell.Yarn].Color
				fill = color.NRGBA{yarn.R, yarn.G, yarn.B, 255}
			}
			draw.Draw(p, image.Rect(x, y, x+d.width, y+d.height), image.NewUniform(fill), image.Point{}, draw.Src)
		}
	}
	return p
}

func asPNG(t testing.TB, p image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, p))
	return b.Bytes()
}

// asJPEG puts the picture on white: JPEG has no transparency.
func asJPEG(t testing.TB, p image.Image, quality int) []byte {
	t.Helper()
	solid := image.NewRGBA(p.Bounds())
	draw.Draw(solid, p.Bounds(), image.White, image.Point{}, draw.Src)
	draw.Draw(solid, p.Bounds(), p, image.Point{}, draw.Over)
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, solid, &jpeg.Options{Quality: quality}))
	return b.Bytes()
}

func asGIF(t testing.TB, p image.Image, colors color.Palette) []byte {
	t.Helper()
	flat := image.NewPaletted(p.Bounds(), colors)
	draw.Draw(flat, p.Bounds(), p, image.Point{}, draw.Src)
	var b bytes.Buffer
	require.NoError(t, gif.EncodeAll(&b, &gif.GIF{Image: []*image.Paletted{flat}, Delay: []int{0}}))
	return b.Bytes()
}

// drawn parses a chart of oat and fjord from rows given top to bottom.
func drawn(t *testing.T, rows ...string) *chart.Chart {
	t.Helper()
	c, err := chart.Parse("", []byte("yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\n"+strings.Join(rows, "\n")+"\n"))
	require.NoError(t, err)
	return c
}

// grid is the rows of a chart, top to bottom.
func grid(c *chart.Chart) []string {
	_, rows, _ := strings.Cut(c.String(), "rows:\n")
	return strings.Fields(rows)
}

func header(c *chart.Chart) string {
	before, _, _ := strings.Cut(c.String(), "rows:\n")
	return before
}

// goodCharts are all charts of the tests and the examples.
func goodCharts(t testing.TB) map[string]*chart.Chart {
	t.Helper()
	charts := map[string]*chart.Chart{}
	for _, pattern := range []string{"../testdata/good/*.chart", "../../examples/*.chart"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, file := range files {
			src, err := os.ReadFile(file)
			require.NoError(t, err)
			c, err := chart.Parse(file, src)
			require.NoError(t, err)
			charts[filepath.Base(file)] = c
		}
	}
	require.NotEmpty(t, charts)
	return charts
}

// requireSameColors holds that both charts have the same size, empty cells in the
// same places, and colors no farther apart than slack (CIEDE2000), 0 for equal.
// White stands for an empty cell when the picture could not hold one.
func requireSameColors(t testing.TB, want, got *chart.Chart, slack float64, solid bool) {
	t.Helper()
	require.Equal(t, [2]int{want.Width(), want.Height()}, [2]int{got.Width(), got.Height()}, "size")
	for row := 1; row <= want.Height(); row++ {
		wanted, read := want.Cells(row), got.Cells(row)
		for i := range wanted {
			w, g := cellPaint(want, wanted[i], solid), cellPaint(got, read[i], solid)
			if (w == nil) != (g == nil) || w != nil && chart.DeltaE(w.Lab(), g.Lab()) > slack {
				require.Fail(t, "another cell", "row %d column %d: %v read as %v\n%s", row, i+1, w, g, got)
			}
		}
	}
}

func cellPaint(c *chart.Chart, cell chart.Cell, solid bool) *chart.Color {
	switch {
	case !cell.IsEmpty():
		return &c.Yarns[cell.Yarn].Color
	case solid:
		return &chart.Color{R: 255, G: 255, B: 255}
	}
	return nil
}

func importPicture(t testing.TB, data []byte, o Options) (*chart.Chart, *Report) {
	t.Helper()
	c, report, err := Import(data, o)
	require.NoError(t, err)
	require.NoError(t, c.Validate())
	assert.Equal(t, [2]int{c.Width(), c.Height()}, [2]int{report.Columns, report.Rows})
	return c, report
}
