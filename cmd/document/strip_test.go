package document

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/cmd/paint"
)

// A strip laid out to its line: cells as wide as fit, up to the most; never narrower than the
// least, even in pieces; signs, ruler and rows below stand under their stitches.
func TestAStripIsAsWideAsItsLine(t *testing.T) {
	yarns := []chart.Yarn{{Symbol: '.', Name: "oat"}, {Symbol: 'x', Name: "fjord"}}
	row := func(signed int, sign string) []Column {
		columns := make([]Column, 5)
		for i := range columns {
			columns[i].Stitch = i + 1
		}
		columns[1].Yarn, columns[4].Yarn, columns[signed].Signs = 1, 1, strings.Fields(sign)
		return columns
	}
	strip := Strip{
		Number: 7, Columns: row(1, "a"), Least: 2, Most: 4, High: true,
		Below: [][]Column{row(0, ""), row(0, "b")},
	}
	for width, want := range map[int]string{
		30: `
7  x   .   .   x   .   <
               a
   5
6  x   .   .   x   .
5  x   .   .   x   .
                   b
`,
		20: `
7  x  .  .  x  .  <
            a
   5
6  x  .  .  x  .
5  x  .  .  x  .
               b
`,
		14: `
7 x . . x .  <
        a
  5
6 x . . x .
5 x . . x .
          b
`,
	} {
		var b strings.Builder
		look := paint.Look{Paint: paint.New(paint.None), Marks: paint.ChooseMarks(paint.ASCII, nil), Width: width}
		require.NoError(t, Write(&b, Document{Yarns: yarns, Blocks: []Block{strip}}, look))
		assert.Equal(t, strings.TrimPrefix(want, "\n"), b.String(), "width %d", width)
	}
}
