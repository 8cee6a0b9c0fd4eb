package chart

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestRuns(t *testing.T) {
	c := drawn(t, "yarn: o moss #4B6B3A", "stitch: / . k2tog", "empty: _", "rows:", "x_x../o", "..xxx..")
	assert.Equal(t, []Run{{0, 2}, {1, 3}, {0, 2}}, c.Runs(1, false))
	assert.Equal(t, []Run{{2, 1}, {0, 3}, {1, 2}}, c.Runs(2, false))
	assert.Equal(t, []Run{{1, 2}, {0, 3}, {2, 1}}, c.Runs(2, true))
	assert.Equal(t, []int{7, 5, 1}, c.StitchCounts())
	assert.Equal(t, []int{0, 1}, c.YarnsIn(1))
	assert.Equal(t, []int{2}, c.CrowdedRows())
}

// Runs of all rows together are the stitch counts, whichever way they are read.
func TestRunsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := randomChart(t)
		counts := make([]int, len(c.Yarns))
		for row := 1; row <= c.Height(); row++ {
			runs := c.Runs(row, BackAndForth(row))
			for i, run := range runs {
				counts[run.Yarn] += run.Length
				assert.Positive(t, run.Length)
				assert.True(t, i == 0 || runs[i-1].Yarn != run.Yarn)
			}
		}
		assert.Equal(t, c.StitchCounts(), counts)
	})
}

func twinOf(c *Chart, row int, direction Direction) (other, partsAt int) {
	var rows [][]Cell
	for i := 1; i <= row; i++ {
		rows = append(rows, c.InOrder(i, direction(i)))
	}
	return Twin(rows)
}

func TestTwin(t *testing.T) {
	c := drawn(t, "rows:",
		"........", // 7: one yarn, no twin
		"..xxx..x", // 6: parts from 5 at once
		"x..xxx..", // 5: like 2 throughout
		".x.xxx..", // 4: like 3 up to stitch 7, like 2 up to 6
		"xx.xxx..", // 3: like 2 up to stitch 6
		"x..xxx..", // 2: like 1 for 4 stitches, not to the end of the second run
		"....xx..", // 1
	)
	want := [][2]int{{0, 0}, {0, 0}, {2, 7}, {3, 8}, {2, 0}, {0, 0}, {0, 0}}
	for i, w := range want {
		other, partsAt := twinOf(c, i+1, InTheRound)
		assert.Equal(t, w, [2]int{other, partsAt}, "row %d", i+1)
	}
	assert.Equal(t, []Twins{{3, 2, 7}, {4, 3, 8}, {5, 2, 0}}, c.AllTwins(InTheRound))
}

// By hand: the rows read k, xxx in turn and then part, both at a change of yarn; and a row
// that is the beginning of a longer one is no twin of it, nothing tells them apart.
func TestTwinsThatPartAtAChangeOfYarn(t *testing.T) {
	c := drawn(t, "yarn: k kelp #7E9455", "rows:", "..kxxx...", "...xxx...")
	other, partsAt := twinOf(c, 2, InTheRound)
	assert.Equal(t, 1, other)
	assert.Equal(t, 7, partsAt)
	c = drawn(t, "empty: _", "rows:", "_..xx...", "x..xx...")
	other, _ = twinOf(c, 2, InTheRound)
	assert.Zero(t, other)
}

// Worked back and forth, row 2 begins at the other side and is then like row 1.
func TestTwinBackAndForth(t *testing.T) {
	c := drawn(t, "rows:", "..xx.x..", "x.x.xx..")
	other, _ := twinOf(c, 2, InTheRound)
	assert.Zero(t, other)
	other, partsAt := twinOf(c, 2, BackAndForth)
	assert.Equal(t, [2]int{1, 8}, [2]int{other, partsAt})
}

func TestTwinOfLargestCharts(t *testing.T) {
	c, err := drawn(t, "rows:", "..x.xx.xx.", "..x.xx.x..").Repeat(200, 1000)
	require.NoError(t, err)
	assert.Equal(t, 1998, len(c.AllTwins(InTheRound)))
}

func TestPairs(t *testing.T) {
	c, err := Parse("", []byte("yarn: r red #FF0000\nyarn: g gray #808080\nyarn: u unused #818181\nyarn: n night #000000\nyarn: d dusk #0A0A0A\nrows:\nrgnd\n"))
	require.NoError(t, err)
	pairs := c.Pairs()
	require.Len(t, pairs, 6)
	redGray := pairs[0]
	assert.Equal(t, [2]int{0, 1}, [2]int{redGray.A, redGray.B})
	assert.InDelta(t, 53.585-53.233, redGray.Lightness, 0.001) // CIE 15 / ISO 11664-4
	assert.True(t, redGray.Muddy(), "the same value in another hue")
	assert.False(t, redGray.TooAlike())
	nightDusk := pairs[5]
	assert.Equal(t, [2]int{3, 4}, [2]int{nightDusk.A, nightDusk.B})
	assert.True(t, nightDusk.TooAlike())
	redNight := pairs[1]
	assert.False(t, redNight.Muddy())
	assert.InDelta(t, (0.2126+0.05)/0.05, redNight.Contrast, 1e-9) // W3C WCAG 2.2, black has luminance 0
}
