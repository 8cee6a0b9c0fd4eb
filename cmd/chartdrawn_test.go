package cmd

import (
	"bytes"
	"fmt"
	"image/color"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/cmd/frame"
)

// inventedChart is a random chart of all a chart file can say: up to 40 by 40, shaped
// stitches, places without one, several background yarns, letters of many scripts.
func inventedChart(r *rand.Rand) *chart.Chart {
	symbols := []rune(".xo=+é日/\\^v*~")
	r.Shuffle(len(symbols), func(i, j int) { symbols[i], symbols[j] = symbols[j], symbols[i] })
	names := []string{"oat", "fjord & foam", "deep <sea>", "moss \"2\"", "日の出"}
	c := &chart.Chart{Title: []string{"", "Harbor lights", "Pier & \"steps\" <3>", "灯台"}[r.IntN(4)]}
	take := func() rune { s := symbols[0]; symbols = symbols[1:]; return s }
	for i := range 1 + r.IntN(4) {
		color := chart.Color{R: uint8(r.IntN(256)), G: uint8(r.IntN(256)), B: uint8(r.IntN(256))}
		c.Yarns = append(c.Yarns, chart.Yarn{Symbol: take(), Name: names[i], Color: color})
	}
	var worked []rune
	for _, y := range c.Yarns {
		worked = append(worked, y.Symbol)
	}
	for range r.IntN(3) {
		s := chart.StitchSymbol{Symbol: take(), Yarn: c.Yarns[r.IntN(len(c.Yarns))].Symbol, Technique: chart.Technique(r.IntN(int(chart.Kfb) + 1))}
		c.Stitches, worked = append(c.Stitches, s), append(worked, s.Symbol)
	}
	cells := worked
	if r.IntN(2) == 0 {
		c.Empty = '_'
		cells = append(cells[:len(cells):len(cells)], c.Empty)
	}
	width := 1 + r.IntN(40)
	for range 1 + r.IntN(40) {
		row := make([]rune, width)
		for i := range row {
			row[i] = cells[r.IntN(len(cells))]
		}
		row[r.IntN(width)] = worked[0] // a row of empty cells only is no row
		c.Rows = append(c.Rows, row)
	}
	return c
}

var drawnWith = [][]string{
	nil, {"--bare"}, {"--bare", "--cell", "3x3"}, {"--lines=false"}, {"--gauge", "20x22/4in"}, {"--flat"}, {"--bare", "--cell", "1x1"}, {"--cell", "12x10"},
}

// What chart draw wrote, chart import reads back the same and asks nothing, however small the
// chart is and whatever is left out of the picture.
func TestWhatIsDrawnIsImportedAsItWas(t *testing.T) {
	folder := t.TempDir()
	r := rand.New(rand.NewPCG(60, 1))
	for i := range 60 {
		c := inventedChart(r)
		require.NoError(t, c.Validate())
		file := filepath.Join(folder, fmt.Sprintf("c%d.chart", i))
		require.NoError(t, os.WriteFile(file, []byte("# a remark of one's own\n"+c.String()), 0o600))
		for _, ending := range []string{".png", ".svg"} {
			picture, again := filepath.Join(folder, fmt.Sprintf("c%d%s", i, ending)), filepath.Join(folder, fmt.Sprintf("again%d%s.chart", i, ending))
			drawn := runMain(t, frame.Env{}, append([]string{"chart", "draw", file, "-o", picture}, drawnWith[i%len(drawnWith)]...)...)
			require.Zero(t, drawn.code, drawn.err)
			read := runMain(t, frame.Env{}, "chart", "import", picture, "-o", again)
			require.Zero(t, read.code, read.err)
			text, err := os.ReadFile(again)
			require.NoError(t, err)
			want := *c
			if want.Title == "" {
				want.Title = fmt.Sprintf("c%d", i)
			}
			require.Equal(t, want.String(), string(text), "%s\n%s", picture, c)
		}
	}
}

// A picture that was changed after it was drawn shows another chart than it carries: what it
// shows counts. A drawing has nothing to see for us, and is refused.
func TestADrawnPictureThatWasChangedIsNotTakenAtItsWord(t *testing.T) {
	folder := t.TempDir()
	picture, drawing := filepath.Join(folder, "p.png"), filepath.Join(folder, "p.svg")
	for _, name := range []string{picture, drawing} {
		require.Zero(t, runMain(t, frame.Env{}, "chart", "draw", "example:practice", "--bare", "-o", name).code)
	}
	got := runMain(t, frame.Env{}, "chart", "import", picture, "--dry-run", "--plain")
	require.Zero(t, got.code)
	assert.Contains(t, got.out, "as it was drawn")

	data, err := os.ReadFile(picture)
	require.NoError(t, err)
	seen, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	chunk, end := bytes.Index(data, []byte("iTXt"))-4, bytes.Index(data, []byte("IDAT"))-4
	anew := asPNG(painted(seen.Bounds().Dx(), seen.Bounds().Dy(), func(x, y int) color.Color {
		if x < 13 && y < 13 {
			return color.NRGBA{0xC0, 0x20, 0x20, 255}
		}
		return seen.At(x, y)
	}))
	anew = bytes.Join([][]byte{anew[:33], data[chunk:end], anew[33:]}, nil) // the chunk kept by a paint program
	require.NoError(t, os.WriteFile(picture, anew, 0o600))
	got = runMain(t, frame.Env{}, "chart", "import", picture, "--dry-run", "--plain")
	require.Zero(t, got.code, got.err)
	assert.NotContains(t, got.out, "as it was drawn")
	assert.Contains(t, got.out, "#C02020")

	data, err = os.ReadFile(drawing)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(drawing, bytes.Replace(data, []byte("#1F4E79"), []byte("#1F4E78"), 1), 0o600))
	got = runMain(t, frame.Env{}, "chart", "import", drawing, "--yes")
	assert.Equal(t, 3, got.code)
	assert.Contains(t, got.err, "not as strandwise chart draw wrote it")
}
