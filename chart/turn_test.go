package chart

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawn parses a chart of oat and fjord from rows given top to bottom.
func drawn(t *testing.T, rows ...string) *Chart {
	t.Helper()
	c, err := Parse("", []byte("yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\n"+strings.Join(rows, "\n")+"\n"))
	require.NoError(t, err)
	return c
}

// grid is the rows of a chart, top to bottom.
func grid(c *Chart) []string {
	_, rows, _ := strings.Cut(c.String(), "rows:\n")
	return strings.Split(strings.TrimSuffix(rows, "\n"), "\n")
}

func header(c *Chart) string {
	before, _, _ := strings.Cut(c.String(), "rows:\n")
	return before
}

// otherLean is what a decrease or an increase is in a mirror: one that leans right leans
// left (common practice).
var otherLean = map[Technique]Technique{K2tog: Ssk, Ssk: K2tog, K3tog: Sk2p, Sk2p: K3tog, M1l: M1r, M1r: M1l}

func TestMirrorExchangesLeans(t *testing.T) {
	both := drawn(t, "stitch: / . k2tog", "stitch: \\ . ssk", "rows:", "//x.\\", "x.x..")
	assert.Equal(t, []string{"/.x\\\\", "..x.x"}, grid(both.Mirror()))
	assert.Equal(t, header(both), header(both.Mirror()))

	single := drawn(t, "stitch: d . k3tog", "stitch: c . cdd", "stitch: y x yo", "rows:", "dxc.y")
	assert.Equal(t, []string{"y.cxd"}, grid(single.Mirror()))
	assert.Contains(t, header(single.Mirror()), "stitch: d . sk2p\nstitch: c . cdd\nstitch: y x yo\n")

	// Each symbol is paired once, and the one left is declared anew: a copy of a piece is known by the bytes.
	odd := drawn(t, "stitch: / . k2tog", "stitch: % . k2tog", "stitch: \\ . ssk", "rows:", "/%\\x.")
	assert.Equal(t, []string{".x/%\\"}, grid(odd.Mirror()))
	assert.Contains(t, header(odd.Mirror()), "stitch: / . k2tog\nstitch: % . ssk\nstitch: \\ . ssk\n")

	raised := drawn(t, "stitch: l . m1l", "stitch: r . m1r", "stitch: m . m1", "rows:", "lm.xr")
	assert.Equal(t, []string{"lx.mr"}, grid(raised.Mirror()))

	otherYarn := drawn(t, "stitch: / . k2tog", "stitch: \\ x ssk", "rows:", "/x\\.")
	assert.Equal(t, []string{".\\x/"}, grid(otherYarn.Mirror()))
	assert.Contains(t, header(otherYarn.Mirror()), "stitch: / . ssk\nstitch: \\ x k2tog\n")
}

func TestMirrorProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := randomChart(t)
		before := c.String()
		mirrored := c.Mirror()
		assert.NoError(t, mirrored.Validate())
		assert.Equal(t, before, c.String(), "the chart itself is left alone")
		twice := mirrored.Mirror()
		for row := 1; row <= c.Height(); row++ {
			assert.Equal(t, c.Cells(row), twice.Cells(row))
			cells := mirrored.Cells(row)
			for i, cell := range c.Cells(row) {
				if other, leans := otherLean[cell.Technique]; leans {
					cell.Technique = other
				}
				assert.Equal(t, cell, cells[len(cells)-1-i])
			}
		}
	})
}

func TestUpsideDown(t *testing.T) {
	c := drawn(t, "stitch: - x purl", "rows:", "..x", "-x.")
	turned, err := c.UpsideDown()
	require.NoError(t, err)
	assert.Equal(t, []string{".x-", "x.."}, grid(turned))

	_, err = drawn(t, "stitch: / . k2tog", "rows:", "..x", "./x").UpsideDown()
	assert.EqualError(t, err, "row 1, column 2 is k2tog: shaping cannot be turned upside down; crop the rows without shaping first")
}

func TestRepeat(t *testing.T) {
	c := drawn(t, "rows:", ".xx", "..x")
	turned, err := c.Repeat(2, 2)
	require.NoError(t, err)
	assert.Equal(t, []string{".xx.xx", "..x..x", ".xx.xx", "..x..x"}, grid(turned))
	turned.Rows[0][0] = '.'
	assert.NotEqual(t, turned.Rows[0], turned.Rows[2], "copies share nothing")

	for _, n := range [][2]int{{0, 1}, {1, 0}, {-1, 1}, {667, 1}, {1, 1001}, {1 << 62, 4}, {4, 1 << 62}} {
		_, err := c.Repeat(n[0], n[1])
		assert.Error(t, err, n)
	}
	_, err = c.Repeat(700, 1)
	assert.EqualError(t, err, "the result would have 2100 columns and 2 rows; a chart has at most 2000 and 2000")
}

func TestCrop(t *testing.T) {
	c := drawn(t, "empty: _", "rows:", "_x..", "_.xx", "..x.")
	turned, err := c.Crop(2, 3, 1, 3)
	require.NoError(t, err)
	assert.Equal(t, []string{"x..", ".xx"}, grid(turned))
	require.NoError(t, turned.Validate())

	_, err = c.Crop(1, 3, 4, 4)
	assert.EqualError(t, err, "row 2 has only empty cells in columns 4 to 4; take more columns or leave the row out")
	_, err = c.Crop(0, 3, 1, 4)
	assert.EqualError(t, err, "rows 0:3 are not in the chart: it has rows 1:3, the smaller number first")
	_, err = c.Crop(1, 3, 1, 5)
	assert.ErrorContains(t, err, "columns 1:5 are not in the chart")
	_, err = c.Crop(3, 1, 1, 4)
	assert.ErrorContains(t, err, "the smaller number first")
}

func TestSwapYarns(t *testing.T) {
	c := drawn(t, "stitch: / . k2tog", "stitch: - x purl", "stitch: = . purl", "background: .", "rows:", "./-=x", "xx...")
	turned, err := c.SwapYarns('.', 'x')
	require.NoError(t, err)
	assert.Equal(t, []string{"x/-=.", "..xxx"}, grid(turned))
	assert.Contains(t, header(turned), "yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nstitch: / x k2tog\nstitch: - . purl\nstitch: = x purl\nbackground: x\n")

	_, err = c.SwapYarns('.', '/')
	assert.EqualError(t, err, `no yarn has the symbol "/": the yarns are . x`)
	_, err = c.SwapYarns('x', 'x')
	assert.EqualError(t, err, "cannot swap the yarn x with itself; name two")
}

func TestSwapYarnsProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := randomChart(t)
		if len(c.Yarns) < 2 {
			return
		}
		turned, err := c.SwapYarns(c.Yarns[0].Symbol, c.Yarns[1].Symbol)
		require.NoError(t, err)
		assert.NoError(t, turned.Validate())
		for row := 1; row <= c.Height(); row++ {
			cells := turned.Cells(row)
			for i, cell := range c.Cells(row) {
				if cell.Yarn == 0 || cell.Yarn == 1 {
					cell.Yarn = 1 - cell.Yarn
				}
				assert.Equal(t, cell, cells[i])
			}
		}
	})
}

func TestFindYarn(t *testing.T) {
	c := drawn(t, "rows:", ".x")
	for text, want := range map[string]int{".": 0, "x": 1, "oat": 0, "Fjord": 1} {
		got, err := c.FindYarn(text)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	_, err := c.FindYarn("fyord")
	assert.EqualError(t, err, `no yarn is called "fyord": did you mean fjord?`)
	_, err = c.FindYarn("moss")
	assert.EqualError(t, err, `no yarn is called "moss": the yarns are . oat, x fjord`)
}

func TestBesideAndStack(t *testing.T) {
	c := drawn(t, "title: Pier", "empty: _", "background: .", "rows:", "_x.", "..x")
	other, err := Parse("", []byte("title: Tide\nyarn: x fjord #1F4E79\nyarn: o moss #4B6B3A\nstitch: / o ssk\nempty: -\nbackground: o\nrows:\n-/o\noox\n"))
	require.NoError(t, err)

	beside, err := c.Beside(other)
	require.NoError(t, err)
	require.NoError(t, beside.Validate())
	assert.Equal(t, []string{"_/o_x.", "oox..x"}, grid(beside))
	assert.Equal(t, "title: Pier\nyarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nyarn: o moss #4B6B3A\nstitch: / o ssk\nempty: _\nbackground: . o\n", header(beside))

	stacked, err := c.Stack(other)
	require.NoError(t, err)
	require.NoError(t, stacked.Validate())
	assert.Equal(t, []string{"_/o", "oox", "_x.", "..x"}, grid(stacked))
	assert.Equal(t, []string{"_x.", "..x"}, grid(c), "the chart itself is left alone")
}

func TestJoinRefuses(t *testing.T) {
	c := drawn(t, "stitch: / . k2tog", "rows:", "..x/")
	cases := map[string][2]string{
		"color":      {"yarn: x fjord #000000\nrows:\nxxxx\n", "x is fjord #1F4E79 in one chart and fjord #000000 in the other"},
		"name":       {"yarn: x moss #1F4E79\nrows:\nxxxx\n", "x is fjord #1F4E79 in one chart and moss #1F4E79"},
		"symbol":     {"yarn: o fjord #1F4E79\nrows:\noooo\n", "the yarn fjord is x in one chart and o in the other"},
		"stitch":     {"yarn: . oat #EFE6D2\nstitch: / . ssk\nrows:\n..//\n", "/ is k2tog in . in one chart and ssk in ."},
		"empty":      {"yarn: o moss #4B6B3A\nempty: x\nrows:\nooox\n", "x is an empty cell in one chart and a stitch in the other"},
		"width":      {"yarn: x fjord #1F4E79\nrows:\nx\n", "4 and 1 columns"},
		"other rows": {"yarn: x fjord #1F4E79\nrows:\nxxxx\nxxxx\n", ""},
	}
	for name, tc := range cases {
		t.Run(name, func(t *testing.T) {
			other, err := Parse("", []byte(tc[0]))
			require.NoError(t, err)
			_, err = c.Stack(other)
			if tc[1] == "" {
				assert.NoError(t, err)
				_, err = c.Beside(other)
				assert.EqualError(t, err, "the charts have 1 and 2 rows; crop or repeat one until they are the same")
				return
			}
			assert.ErrorContains(t, err, tc[1])
		})
	}
}

// Cropping undoes joining.
func TestJoinAndCrop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := randomChart(t)
		twice, err := c.Beside(c)
		require.NoError(t, err)
		four, err := twice.Stack(twice)
		require.NoError(t, err)
		repeated, err := c.Repeat(2, 2)
		require.NoError(t, err)
		assert.True(t, four.Same(repeated))
		back, err := four.Crop(c.Height()+1, 2*c.Height(), c.Width()+1, 2*c.Width())
		require.NoError(t, err)
		assert.True(t, back.Same(c))
	})
}

// The ground of each chart stays background, also where neither declares one: of `xxx.`
// x is the yarn with most stitches, of `..x.` the other.
func TestBesideKeepsEachBackground(t *testing.T) {
	dark, light := drawn(t, "rows:", "xxx."), drawn(t, "rows:", "..x.")
	joined, err := dark.Beside(light)
	require.NoError(t, err)
	assert.Equal(t, []rune{'x', '.'}, joined.Background)
	joined, err = light.Beside(light)
	require.NoError(t, err)
	assert.Empty(t, joined.Background)
	declared := drawn(t, "background: .", "rows:", "xxx.")
	joined, err = dark.Beside(declared)
	require.NoError(t, err)
	assert.Equal(t, []rune{'x', '.'}, joined.Background)
}

func TestInto(t *testing.T) {
	ground := drawn(t, "title: ground", "rows:", "....", "....", "....")
	motif := drawn(t, "title: motif", "yarn: o ember #B03A2E", "stitch: / o k2tog", "empty: _", "rows:", "o_x", "_/o")
	got, err := motif.Into(ground, 2, 1)
	require.NoError(t, err)
	assert.Equal(t, []string{"....", "o.x.", "./o."}, grid(got))
	assert.Equal(t, "title: motif\nyarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nyarn: o ember #B03A2E\nstitch: / o k2tog\n", header(got))

	_, err = motif.Into(ground, 3, 1)
	assert.EqualError(t, err, "3 columns by 2 rows do not fit at column 3, row 1 of 4 columns by 3 rows; columns 1 to 2 and rows 1 to 2 have room for it")
	_, err = motif.Into(ground, 0, 1)
	assert.Error(t, err)
	_, err = ground.Into(motif, 1, 1)
	assert.ErrorContains(t, err, "4 columns by 3 rows do not fit at column 1, row 1 of 3 columns by 2 rows; crop the one")

	covered := drawn(t, "rows:", "xxx")
	got, err = covered.Into(drawn(t, "rows:", "...."), 1, 1)
	require.NoError(t, err)
	assert.Equal(t, []string{".xxx"}, grid(got))
	assert.Contains(t, header(got), "background: .\n", "the ground stays the background, though fewer stitches show")
}

// Each cell is the motif's where that has a stitch, and else the ground's.
func TestIntoProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		motif := randomChart(t)
		ground := motif.copyChart()
		across, up := rapid.IntRange(1, 3).Draw(t, "across"), rapid.IntRange(1, 3).Draw(t, "up")
		ground, err := ground.Repeat(across, up)
		require.NoError(t, err)
		column := rapid.IntRange(1, ground.Width()-motif.Width()+1).Draw(t, "column")
		row := rapid.IntRange(1, ground.Height()-motif.Height()+1).Draw(t, "row")
		got, err := motif.Into(ground, column, row)
		require.NoError(t, err)
		require.NoError(t, got.Validate())
		for r := range ground.Height() {
			cells, below := got.Cells(r+1), ground.Cells(r+1)
			for c := range cells {
				want := below[c]
				if y, x := r+1-row, c+1-column; y >= 0 && y < motif.Height() && x >= 0 && x < motif.Width() {
					if over := motif.Cells(y + 1)[x]; !over.IsEmpty() {
						want = over
					}
				}
				assert.Equal(t, want, cells[c])
			}
		}
	})
}
