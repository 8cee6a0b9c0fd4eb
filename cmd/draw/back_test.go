package draw

import (
	"fmt"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
	"strandwise/session"
)

// eachShape visits what is drawn, that within clips too.
func eachShape(shapes []Shape, do func(Shape)) {
	for _, s := range shapes {
		do(s)
		eachShape(s.Inside, do)
	}
}

// On the cards of random pieces and of the examples the wrong side of a row to come has the catches that the card
// tells of most of its repeats, or else of the first that have some: each once, but where parts share columns, each
// where it holds its yarn. It fits beside the box on the narrower paper, and no figure is under 8 points.
func TestBacksHaveTheCatchesOfTheirCards(t *testing.T) {
	pieces := map[string]*session.Piece{}
	for name := range knitted.Examples(t) {
		pieces[name] = example(t, name, 0)
	}
	for seed := range uint64(30) {
		k := knitted.Random(seed)
		k.Rows = 0
		pieces[fmt.Sprint(seed)] = k.Knit(t)
	}
	total, broken := 0, 0
	for name, p := range pieces {
		k := WithRowsToCome(p, p.Rows(), nil)
		for row := 1; row <= p.Rows(); row++ {
			s := p.Sheet(row)
			want, got, repeats := []string{}, []string{}, map[string][]int{} // by block
			for _, b := range s.Blocks {
				for _, alike := range append([]session.RepeatRuns{b.Often}, b.Others...) {
					if len(alike.Catches) > 0 {
						repeats[fmt.Sprint(alike.Block)] = alike.Repeats
						for _, c := range alike.Catches {
							want = append(want, fmt.Sprint(c.Block, " ", c.Letter, " ", c.Stitch, " ", string(c.Yarn.Symbol)))
						}
						break
					}
				}
			}
			scenes := Backs(k, s)
			for _, scene := range scenes {
				require.LessOrEqual(t, scene.Width, stripWidth, "%s, row %d", name, row)
				eachShape(scene.Shapes, func(shape Shape) {
					if shape.Kind == Label {
						require.GreaterOrEqual(t, shape.Size, stripLeast, "%s, row %d: %s", name, row, shape.Text)
					}
					if shape.Class != "catch" {
						return
					}
					facts := map[string]string{"block": "0"}
					for _, d := range shape.Data {
						facts[d.Name] = d.Value
					}
					repeat, err := strconv.Atoi(facts["repeat"])
					require.NoError(t, err)
					// A twist before the first stitch of the next repeat stands on the border.
					if facts["row"] == fmt.Sprint(row) && slices.Contains(repeats[facts["block"]], repeat) {
						require.Equal(t, "to-make", facts["catch"])
						got = append(got, facts["block"]+" "+facts["letter"]+" "+facts["stitch"]+" "+facts["yarn"])
					}
				})
			}
			slices.Sort(want)
			slices.Sort(got)
			require.Equal(t, want, slices.Compact(got), "%s, row %d", name, row)
			total += len(want)
			broken += max(0, len(scenes)-len(s.Blocks))
		}
	}
	assert.Greater(t, total, 500)
	assert.Positive(t, broken, "rows wider than a line")
}
