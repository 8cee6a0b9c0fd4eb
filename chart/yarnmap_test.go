package chart

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestMapYarn(t *testing.T) {
	c := drawn(t, "yarn: o ember #B03A2E", "stitch: / x k2tog", "background: . x", "rows:", "./xo", "x.o.")
	got, err := c.MapYarn('x', '.')
	require.NoError(t, err)
	assert.Equal(t, []string{"./.o", "..o."}, grid(got))
	assert.Equal(t, "yarn: . oat #EFE6D2\nyarn: o ember #B03A2E\nstitch: / . k2tog\nbackground: .\n", header(got))
	require.NoError(t, got.Validate())

	_, err = c.MapYarn('x', 'q')
	assert.EqualError(t, err, `no yarn has the symbol "q": the yarns are . x o`)
	_, err = c.MapYarn('x', 'x')
	assert.ErrorContains(t, err, "already")
}

func TestRedeclareYarn(t *testing.T) {
	c := drawn(t, "stitch: / x k2tog", "empty: _", "background: x", "rows:", "./x_", "x..x")
	got, err := c.RedeclareYarn('x', Yarn{'o', "night blue", Color{0, 0, 0x80}})
	require.NoError(t, err)
	assert.Equal(t, []string{"./o_", "o..o"}, grid(got))
	assert.Equal(t, "yarn: . oat #EFE6D2\nyarn: o night blue #000080\nstitch: / o k2tog\nempty: _\nbackground: o\n", header(got))
	require.NoError(t, got.Validate())
	for want, y := range map[string]Yarn{
		"/ is k2tog in x already":                     {'/', "fjord", Color{}},
		"_ is a cell without a stitch already":        {'_', "fjord", Color{}},
		". is oat #EFE6D2 already":                    {'.', "fjord", Color{}},
		"the yarn . is called oat already":            {'x', "OAT", Color{}},
		"the digit 1 cannot be a symbol; a symbol is": {'1', "fjord", Color{}},
	} {
		_, err := c.RedeclareYarn('x', y)
		assert.ErrorContains(t, err, want)
	}
}

// A yarn renamed and named back is the chart it was; mapped, it has all stitches of both.
func TestYarnsChangedAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := randomChart(t)
		y := c.Yarns[rapid.IntRange(0, len(c.Yarns)-1).Draw(t, "yarn")]
		there, err := c.RedeclareYarn(y.Symbol, Yarn{'♠', "a name nobody has", Color{1, 2, 3}})
		require.NoError(t, err)
		require.NoError(t, there.Validate())
		back, err := there.RedeclareYarn('♠', y)
		require.NoError(t, err)
		assert.Equal(t, c.String(), back.String())
		to := c.Yarns[rapid.IntRange(0, len(c.Yarns)-1).Draw(t, "to")]
		if to == y {
			return
		}
		one, err := c.MapYarn(y.Symbol, to.Symbol)
		require.NoError(t, err)
		require.NoError(t, one.Validate())
		before, after := c.StitchCounts(), one.StitchCounts()
		assert.Equal(t, before[c.YarnIndex(y.Symbol)]+before[c.YarnIndex(to.Symbol)], after[one.YarnIndex(to.Symbol)])
	})
}

// Differences by CIEDE2000, as TestDeltaE holds it against published pairs.
func TestTakeYarns(t *testing.T) {
	known := []Yarn{{'.', "oat", Color{0xEF, 0xE6, 0xD2}}, {'_', "fjord", Color{0x1F, 0x4E, 0x79}}, {'o', "ember", Color{0xB0, 0x3A, 0x2E}}}
	scan := drawn(t, "empty: _", "rows:", "..x_", "x...")
	scan.Yarns[0] = Yarn{'.', "cream", Color{0xEC, 0xE5, 0xD0}}
	scan.Yarns[1] = Yarn{'x', "dark blue", Color{0x22, 0x50, 0x7C}}
	got, matches := scan.TakeYarns(known)
	require.NoError(t, got.Validate())
	assert.Equal(t, known[:2], got.Yarns)
	assert.NotEqual(t, '_', got.Empty)
	assert.Equal(t, []string{".._" + string(got.Empty), "_..."}, grid(got))
	require.Len(t, matches, 2)
	assert.Equal(t, []int{5, 2}, []int{matches[0].Stitches, matches[1].Stitches})
	for _, m := range matches {
		assert.Less(t, m.DeltaE, 2.)
		assert.False(t, m.Far() || m.Doubt)
	}

	scan.Yarns[1].Color = Color{0x4F, 0x7A, 0x4A}
	_, matches = scan.TakeYarns(known)
	assert.True(t, matches[1].Far(), "a green is near none of the three")

	scan.Yarns[1] = Yarn{'x', "gray", Color{0x88, 0x44, 0x54}}
	_, matches = scan.TakeYarns([]Yarn{{'a', "one", Color{0x88, 0x38, 0x54}}, {'b', "two", Color{0x88, 0x50, 0x54}}})
	assert.True(t, matches[1].Doubt, "between two yarns")

	scan.Yarns[0].Color, scan.Yarns[1].Color = Color{0xA0, 0xA0, 0xA0}, Color{0x84, 0x84, 0x84}
	_, matches = scan.TakeYarns([]Yarn{{'a', "gray", Color{0x90, 0x90, 0x90}}})
	assert.NotEqual(t, matches[0].Doubt, matches[1].Doubt, "two shades that are clearly apart became one yarn")
}

// Tables of colors take the nearest of known yarns.
func TestTablesTakeKnownYarns(t *testing.T) {
	known := []Yarn{{'.', "oat", Color{0xEF, 0xE6, 0xD2}}, {'x', "fjord", Color{0x1F, 0x4E, 0x79}}}
	c, report, err := ImportTable([]byte("#ECE5D0,#22507C\n#EFE6D2,#ECE5D0\n"), TableOptions{Yarns: known})
	require.NoError(t, err)
	assert.Equal(t, known, c.Yarns)
	assert.Equal(t, []string{".x", ".."}, grid(c))
	assert.Len(t, report.Taken, 3)
	assert.Empty(t, report.Notes)
}
