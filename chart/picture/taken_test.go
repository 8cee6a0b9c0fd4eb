package picture

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// Differences by CIEDE2000, as TestDeltaE holds it against published pairs.
func TestTakeYarns(t *testing.T) {
	known := []chart.Yarn{{Symbol: '.', Name: "oat", Color: rgb(0xEF, 0xE6, 0xD2)}, {Symbol: '_', Name: "fjord", Color: rgb(0x1F, 0x4E, 0x79)}, {Symbol: 'o', Name: "ember", Color: rgb(0xB0, 0x3A, 0x2E)}}
	scan := drawn(t, "empty: _", "rows:", "..x_", "x...")
	scan.Yarns[0] = chart.Yarn{Symbol: '.', Name: "cream", Color: rgb(0xEC, 0xE5, 0xD0)}
	scan.Yarns[1] = chart.Yarn{Symbol: 'x', Name: "dark blue", Color: rgb(0x22, 0x50, 0x7C)}
	got, matches := TakeYarns(scan, known)
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

	scan.Yarns[1].Color = rgb(0x4F, 0x7A, 0x4A)
	_, matches = TakeYarns(scan, known)
	assert.True(t, matches[1].Far(), "a green is near none of the three")

	scan.Yarns[1] = chart.Yarn{Symbol: 'x', Name: "gray", Color: rgb(0x88, 0x44, 0x54)}
	_, matches = TakeYarns(scan, []chart.Yarn{{Symbol: 'a', Name: "one", Color: rgb(0x88, 0x38, 0x54)}, {Symbol: 'b', Name: "two", Color: rgb(0x88, 0x50, 0x54)}})
	assert.True(t, matches[1].Doubt, "between two yarns")

	scan.Yarns[0].Color, scan.Yarns[1].Color = rgb(0xA0, 0xA0, 0xA0), rgb(0x84, 0x84, 0x84)
	_, matches = TakeYarns(scan, []chart.Yarn{{Symbol: 'a', Name: "gray", Color: rgb(0x90, 0x90, 0x90)}})
	assert.NotEqual(t, matches[0].Doubt, matches[1].Doubt, "two shades that are clearly apart became one yarn")
}

// Tables of colors take the nearest of known yarns.
func TestTablesTakeKnownYarns(t *testing.T) {
	known := []chart.Yarn{{Symbol: '.', Name: "oat", Color: rgb(0xEF, 0xE6, 0xD2)}, {Symbol: 'x', Name: "fjord", Color: rgb(0x1F, 0x4E, 0x79)}}
	c, report, err := ImportTable([]byte("#ECE5D0,#22507C\n#EFE6D2,#ECE5D0\n"), TableOptions{Yarns: known})
	require.NoError(t, err)
	assert.Equal(t, known, c.Yarns)
	assert.Equal(t, []string{".x", ".."}, grid(c))
	assert.Len(t, report.Taken, 3)
	assert.Empty(t, report.Notes)
}
