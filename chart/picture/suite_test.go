package picture

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	xdraw "golang.org/x/image/draw"

	"strandwise/chart"
)

// The suite draws charts it knows in all the ways in which they come to a knitter, and
// compares what is read with what was drawn. Nothing outside gives the truth but the grid
// itself, which the drawing in the tests makes with the standard library alone.
//
// A reading is sure when the report has no question and no doubtful cell, else it is asked.
// What is read wrong must be asked or refused: never a wrong size, never a wrong yarn unasked.

// way is one way of drawing and damaging. Clean ones are those a knitter would expect to be
// read without being told anything; why says what speaks for or against.
type way struct {
	name  string
	clean bool
	why   string
	wants outcome // what is right here
	data  func(t testing.TB, c *chart.Chart) []byte
}

type outcome int

const (
	right    outcome = iota // as drawn, sure
	asked                   // as drawn, with a question
	misread                 // otherwise than drawn, with a question
	refused                 // not read
	unasked                 // otherwise than drawn, without a word
	outcomes                // how many there are
)

// lines are the drawings the ways begin with.
var (
	fine     = drawing{width: 11, height: 11, line: 1, lineColor: grayInk, frame: true}
	oblong   = drawing{width: 13, height: 10, line: 1, lineColor: grayInk, frame: true}
	pale     = drawing{width: 12, height: 12, line: 1, lineColor: paleGray}
	thick    = drawing{width: 14, height: 12, line: 3, lineColor: black, frame: true}
	scanned  = drawing{width: 16, height: 15, line: 2, lineColor: grayInk, frame: true}
	noFrame  = drawing{width: 13, height: 11, line: 1, lineColor: grayInk, margin: 19}
	plain10  = drawing{width: 10, height: 10}
	plain8   = drawing{width: 9, height: 8}
	smallest = drawing{width: 3, height: 3}
)

// drawnBy makes a PNG of a drawing and its damages.
func drawnBy(d drawing, by ...damage) func(t testing.TB, c *chart.Chart) []byte {
	return func(t testing.TB, c *chart.Chart) []byte { return asPNG(t, damaged(d.picture(c), by...)) }
}

// shotBy makes a JPEG of the quality.
func shotBy(quality int, d drawing, by ...damage) func(t testing.TB, c *chart.Chart) []byte {
	return func(t testing.TB, c *chart.Chart) []byte { return asJPEG(t, damaged(d.picture(c), by...), quality) }
}

var ways = []way{
	{"one pixel a stitch", true, "exact", right, drawnBy(drawing{width: 1, height: 1})},
	{"blocks of 10", true, "exact", right, drawnBy(plain10)},
	{"blocks of 9 x 8", true, "exact", right, drawnBy(plain8)},
	{"blocks of 3", true, "exact", right, drawnBy(smallest)},
	{"blocks, margin of 13", true, "exact, as exported", right, drawnBy(plain10, onPaper(13))},
	{"blocks of 3, margin of 5", true, "exact, as exported", right, drawnBy(smallest, onPaper(5))},
	{"blocks as GIF", true, "exact", right, func(t testing.TB, c *chart.Chart) []byte {
		colors := color.Palette{}
		for _, y := range c.Yarns {
			colors = append(colors, color.NRGBA{y.Color.R, y.Color.G, y.Color.B, 255})
		}
		return asGIF(t, plain10.picture(c), colors)
	}},
	{"lines and frame", true, "exact", right, drawnBy(fine)},
	{"oblong cells", true, "exact", right, drawnBy(oblong)},
	{"pale lines, no frame", true, "exact", right, drawnBy(pale)},
	{"thick lines", true, "exact", right, drawnBy(thick)},
	{"lines, no frame, margin", true, "exact, as exported", right, drawnBy(noFrame)},
	{"numbers and title", true, "a page of a pattern", right, func(t testing.TB, c *chart.Chart) []byte {
		return asPNG(t, damaged(fine.picture(c), heavier(fine, c, 5), captioned(fine, c)))
	}},
	{"numbers and title, JPEG", true, "a page of a pattern, sharp", right, func(t testing.TB, c *chart.Chart) []byte {
		return asJPEG(t, damaged(fine.picture(c), heavier(fine, c, 10), captioned(fine, c)), 85)
	}},
	{"blocks, JPEG 85", true, "sharp", right, shotBy(85, plain10)},
	{"lines, JPEG 85", true, "sharp", right, shotBy(85, oblong)},
	{"lines, JPEG 50", false, "much compressed", right, shotBy(50, oblong)},
	{"lines scaled by 0.83", true, "a picture of a page, still sharp", right, drawnBy(fine, scaled(0.83, xdraw.BiLinear))},
	{"lines scaled by 1.37", true, "a picture of a page, still sharp", right, drawnBy(fine, scaled(1.37, xdraw.CatmullRom))},
	{"blocks scaled by 0.77", true, "still sharp", right, drawnBy(plain10, scaled(0.77, xdraw.ApproxBiLinear))},
	{"blocks scaled by 1.13", true, "still sharp", right, drawnBy(plain10, scaled(1.13, xdraw.CatmullRom))},
	{"scaled by 0.83, margin", true, "still sharp", right, drawnBy(plain10, onPaper(17), scaled(0.83, xdraw.BiLinear))},
	{"blur 1", false, "a soft scan", right, drawnBy(scanned, blurred(1))},
	{"blur 1.5, margin, JPEG", false, "a soft scan that is not cropped", right, shotBy(80, scanned, onPaper(31), blurred(1.5))},
	{"grain", false, "a photo in poor light", right, drawnBy(scanned, onPaper(21), grainy(6))},
	{"light 20 %", false, "a photo", right, shotBy(85, scanned, onPaper(25), shaded(0.2))},
	{"light 40 %", false, "a photo in uneven light", right, shotBy(85, scanned, onPaper(25), shaded(0.4), blurred(0.7))},
	{"light 30 %, blocks", false, "a photo of a screen", right, shotBy(90, plain10, vignetted(0.3))},
	{"turned by 0.4", false, "a scan laid in by hand", right, drawnBy(scanned, onPaper(31), turnedBy(0.4))},
	{"turned by -1", false, "a scan laid in by hand", right, shotBy(85, scanned, onPaper(31), turnedBy(-1))},
	{"turned by 0.7, blocks", false, "a scan laid in by hand", right, drawnBy(plain10, onPaper(31), turnedBy(0.7))},
	{"perspective 2 %", false, "a photo", right, shotBy(85, scanned, onPaper(31), tilted(0.02))},
	{"perspective 4 %", false, "a photo from the side", right, shotBy(85, scanned, onPaper(31), tilted(0.04))},
	{"perspective, turned, light", false, "a photo by hand", right, shotBy(85, scanned, onPaper(31), turnedBy(0.6), tilted(0.03), shaded(0.25), blurred(0.6))},
	{"perspective 4 %, blocks", false, "a photo of a screen", right, shotBy(90, plain10, onPaper(31), tilted(0.04))},
	{"transparent ground", false, "stitches are missing: only the knitter knows", asked, func(t testing.TB, c *chart.Chart) []byte {
		p := plain10.picture(c)
		ground := c.Yarns[0].Color
		return asPNG(t, eachPixel(p, func(x, y int) color.NRGBA {
			if at := p.NRGBAAt(x, y); opaque(at) != ground {
				return at
			}
			return color.NRGBA{}
		}))
	}},
	{"symbols", false, "no colors in it", refused, func(t testing.TB, c *chart.Chart) []byte { return asPNG(t, symbolSheet(c)) }},
	{"symbols, scanned", false, "no colors in it", refused, func(t testing.TB, c *chart.Chart) []byte {
		return asJPEG(t, damaged(symbolSheet(c), onPaper(20), blurred(0.6)), 85)
	}},
	{"cut through cells", false, "a cell more or less: only the knitter knows", asked, func(t testing.TB, c *chart.Chart) []byte {
		p := fine.picture(c)
		cut := image.NewNRGBA(image.Rect(0, 0, p.Rect.Dx()-10, p.Rect.Dy()-10))
		draw.Draw(cut, cut.Rect, p, image.Pt(5, 5), draw.Src)
		return asPNG(t, cut)
	}},
}

func TestPictureSuite(t *testing.T) {
	runSuite(t, suiteGrids(15, 20)[:8]) // for speed; all 20 with the tag survey
}

func runSuite(t *testing.T, grids []*chart.Chart) {
	t.Helper()
	require.GreaterOrEqual(t, len(ways), 25)
	counts := make([][outcomes]int, len(ways))
	t.Run("ways", func(t *testing.T) {
		for i, w := range ways {
			t.Run(w.name, func(t *testing.T) {
				t.Parallel()
				for k, c := range grids {
					got, said := judge(w.data(t, c), c)
					counts[i][got]++
					if got > asked {
						t.Logf("grid %d: %s", k, said)
					}
				}
				assert.Zero(t, counts[i][unasked], "a wrong reading must be asked or refused")
				switch w.wants {
				case refused:
					assert.Equal(t, len(grids), counts[i][refused])
				case asked:
					assert.Zero(t, counts[i][right])
				}
			})
		}
	})
	clean, cleanRight := 0, 0
	table := fmt.Sprintf("%-26s %-6s %6s %6s %8s %8s %8s\n", "way", "clean", "right", "asked", "misread", "refused", "unasked")
	for i, w := range ways {
		n := counts[i]
		table += fmt.Sprintf("%-26s %-6v %6d %6d %8d %8d %8d\n", w.name, w.clean, n[right], n[asked], n[misread], n[refused], n[unasked])
		if w.clean {
			clean, cleanRight = clean+len(grids), cleanRight+n[right]
		}
	}
	t.Logf("%d grids\n%sclean: %d of %d right and sure", len(grids), table, cleanRight, clean)
	assert.GreaterOrEqual(t, cleanRight, clean*3/4)
}

// judge imports a picture with nothing given and compares.
func judge(data []byte, want *chart.Chart) (outcome, string) {
	got, report, err := Import(data, Options{})
	if err != nil {
		return refused, err.Error()
	}
	said := fmt.Sprintf("%d x %d of %d x %d, %d yarns of %d, %s, %d doubtful; %s", got.Width(), got.Height(), want.Width(), want.Height(),
		len(got.Yarns), len(want.Yarns), report.Reading, report.Doubtful, strings.Join(report.Questions, "; "))
	same, sure := sameChart(want, got), len(report.Questions) == 0 && report.Doubtful == 0
	switch {
	case same && sure:
		return right, said
	case same:
		return asked, said
	case sure:
		return unasked, said
	}
	return misread, said
}

// sameChart reports whether every stitch has the yarn it was drawn in, and every yarn a
// color nearest to its own.
func sameChart(want, got *chart.Chart) bool {
	if got.Width() != want.Width() || got.Height() != want.Height() || len(got.Yarns) != len(want.Yarns) {
		return false
	}
	yarn := map[int]int{}
	for row := 1; row <= want.Height(); row++ {
		read := got.Cells(row)
		for i, cell := range want.Cells(row) {
			if read[i].IsEmpty() {
				return false
			}
			if known, ok := yarn[cell.Yarn]; ok && known != read[i].Yarn {
				return false
			}
			yarn[cell.Yarn] = read[i].Yarn
		}
	}
	return len(yarn) == len(want.Yarns)
}

// suitePalettes are yarns well apart, a light ground first, one of them dark: what stranded
// work is knitted in.
var suitePalettes = [][]chart.Color{
	{rgb(0xEF, 0xE6, 0xD2), rgb(0x1F, 0x4E, 0x79)},
	{rgb(0xE8, 0xDC, 0xC0), rgb(0x8C, 0x2F, 0x39), rgb(0x2E, 0x5E, 0x4E)},
	{rgb(0x2B, 0x2B, 0x33), rgb(0xD9, 0xA4, 0x41), rgb(0xE9, 0xE4, 0xD8)},
	{rgb(0xC9, 0xD6, 0xDF), rgb(0x3A, 0x3F, 0x58), rgb(0xB6, 0x5D, 0x3A), rgb(0x6E, 0x8B, 0x5B)},
	{rgb(0xFF, 0xFF, 0xFF), rgb(0x14, 0x14, 0x14)},
}

// suiteGrids invents charts: mirrored motifs, all-over patterns, stripes with dots, a small
// motif on a plain ground, a border round a field.
func suiteGrids(seed uint64, n int) []*chart.Chart {
	random := rand.New(rand.NewPCG(seed, 5))
	var charts []*chart.Chart
	for i := range n {
		colors := suitePalettes[i%len(suitePalettes)]
		c := &chart.Chart{}
		for k, color := range colors {
			c.Yarns = append(c.Yarns, chart.Yarn{Symbol: []rune(importSymbols)[k], Name: fmt.Sprintf("yarn %c", 'a'+k), Color: color})
		}
		fill := suitePatterns[i/len(suitePalettes)%len(suitePatterns)](random, 12+random.IntN(22), 10+random.IntN(18), len(colors))
		for _, line := range fill {
			row := make([]rune, len(line))
			for k, yarn := range line {
				row[k] = c.Yarns[yarn].Symbol
			}
			c.Rows = append(c.Rows, row)
		}
		charts = append(charts, c)
	}
	return charts
}

var suitePatterns = []func(r *rand.Rand, w, h, yarns int) [][]int{
	func(r *rand.Rand, w, h, yarns int) [][]int { // mirrored motif
		half := filled((w+1)/2, h, func(int, int) int { return r.IntN(yarns) })
		return filled(w, h, func(x, y int) int { return half[y][min(x, w-1-x)] })
	},
	func(r *rand.Rand, w, h, yarns int) [][]int { // lozenges all over, some stitches otherwise
		size := 3 + r.IntN(3)
		return filled(w, h, func(x, y int) int {
			if r.IntN(12) == 0 {
				return r.IntN(yarns)
			}
			d := abs(x%(2*size)-size) + abs(y%(2*size)-size)
			return min(d*yarns/(2*size+1), yarns-1)
		})
	},
	func(r *rand.Rand, w, h, yarns int) [][]int { // stripes with dots
		every := 2 + r.IntN(4)
		return filled(w, h, func(x, y int) int {
			if (x+y*3)%every == 0 {
				return (y/4 + 1) % yarns
			}
			return y / 4 % yarns
		})
	},
	func(r *rand.Rand, w, h, yarns int) [][]int { // motif on a plain ground, in a border
		return filled(w, h, func(x, y int) int {
			switch near := min(x, y, w-1-x, h-1-y); {
			case near == 0:
				return (x + y) % 2
			case near > 2 && abs(x-w/2)+abs(y-h/2) < min(w, h)/3:
				return 1 + (abs(x-w/2)+abs(y-h/2))%(yarns-1)
			case near > 3 && r.IntN(9) == 0:
				return yarns - 1
			}
			return 0
		})
	},
}

func filled(w, h int, at func(x, y int) int) [][]int {
	rows := make([][]int, h)
	for y := range rows {
		rows[y] = make([]int, w)
		for x := range w {
			rows[y][x] = at(x, y)
		}
	}
	return rows
}

func abs(n int) int { return max(n, -n) }

func TestSuiteGridsAreCharts(t *testing.T) {
	for _, c := range suiteGrids(15, 20) {
		require.NoError(t, c.Validate())
		used := 0
		for _, n := range c.StitchCounts() {
			if n > 0 {
				used++
			}
		}
		require.Len(t, c.Yarns, used, "every yarn is used")
	}
}
