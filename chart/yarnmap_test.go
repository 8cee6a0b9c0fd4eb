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
