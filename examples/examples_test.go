package examples

import (
	"io/fs"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// limit is the longest gap the examples were drawn for: 20 stitches in 4 inches.
const limit = 5

// example is a chart and a piece to knit from it.
type example struct {
	Name  string   // of the piece, in the words of a command line
	File  string   // in Files
	About string   // one line, no stop at the end
	Args  []string // what follows cast-on NAME: the part, then options
}

// practice is the chart to try a motion on.
const practice = "practice.chart"

var list = []example{
	{
		Name: "lantern-hat", File: "lantern-band.chart",
		About: "a hat band of lanterns above the swell, floats of 7 to 11 stitches",
		Args:  []string{"lantern-band.chart@4", "--gauge", "20x22/4in"},
	},
	{
		Name: "mooring-mitten", File: "mooring-mitten.chart",
		About: "the hand of a mitten, with floats that are too long only over the start of the round",
		Args:  []string{"mooring-mitten.chart", "--gauge", "20x22/4in", "--item", "hands-feet", "--limit", "5"},
	},
	{
		Name: "tide-yoke", File: "tide-yoke.chart",
		About: "a yoke of 60 rounds in three yarns, with three decrease rounds and a background that changes",
		Args:  []string{"tide-yoke.chart@20", "--gauge", "24x28/4in"},
	},
	{
		Name: "pier-panel", File: "pier-panel.chart",
		About: "a flat panel in which yarns rest for odd and even numbers of rows",
		Args:  []string{"pier-panel.chart", "--flat", "--gauge", "20x22/4in"},
	},
	{
		Name: "night-sea", File: "night-sea.chart",
		About: "compass roses in a lattice of swell, 48 columns and 48 rows, all over",
		Args:  []string{"night-sea.chart@4x2", "--gauge", "24x26/4in"},
	},
	{
		Name: "practice", File: practice,
		About: "four rows with spans of 7 and 9 stitches to try a catch on",
		Args:  []string{"practice.chart@3", "--limit", "5"},
	},
}

func read(t *testing.T, file string) *chart.Chart {
	t.Helper()
	src, err := Files.ReadFile(file)
	require.NoError(t, err)
	c, err := chart.Parse(file, src)
	require.NoError(t, err)
	return c
}

func TestEveryChartIsListedOnceAndParses(t *testing.T) {
	files, err := fs.Glob(Files, "*.chart")
	require.NoError(t, err)
	var listed []string
	for _, e := range list {
		listed = append(listed, e.File)
		c := read(t, e.File)
		assert.Empty(t, c.Warnings(), e.File)
		assert.Contains(t, c.Comments[0], "Drawn for this project; motif invented.", e.File)
		assert.True(t, strings.HasPrefix(e.Args[0], e.File), e.File)
		assert.NotEmpty(t, c.Title)
		assert.NotEmpty(t, e.About)
	}
	assert.ElementsMatch(t, files, listed)
}

// The ratio of lightness that a reader of a gray print needs is a matter of judgement;
// 20 of 100 is ours.
func TestYarnsAreApartInLightness(t *testing.T) {
	for _, e := range list {
		yarns := read(t, e.File).Yarns
		for i, a := range yarns {
			for _, b := range yarns[:i] {
				apart := a.Color.Lightness() - b.Color.Lightness()
				assert.GreaterOrEqual(t, max(apart, -apart), 20.0, "%s: %s and %s", e.File, a.Name, b.Name)
			}
		}
	}
}

// Parts of one piece are matched by name in the knitter's basket: a yarn looks the same in
// every example.
func TestAYarnHasOneColor(t *testing.T) {
	colors := map[string]chart.Color{}
	for _, e := range list {
		for _, y := range read(t, e.File).Yarns {
			if c, ok := colors[y.Name]; ok {
				assert.Equal(t, c, y.Color, "%s in %s", y.Name, e.File)
			}
			colors[y.Name] = y.Color
		}
	}
}

// uses gives, in knitting order of a right-side row, the places (from 0) that are worked
// in a yarn, and the number of stitches.
func uses(c *chart.Chart, row, yarn int) (at []int, stitches int) {
	for _, cell := range c.Cells(row) {
		if cell.IsEmpty() {
			continue
		}
		if cell.Yarn == yarn {
			at = append(at, stitches)
		}
		stitches++
	}
	return at, stitches
}

// longest is the longest float of a yarn in a row that is repeated round; one repeat
// alone has no float past its ends.
func longest(c *chart.Chart, row, yarn int, repeats bool) int {
	at, stitches := uses(c, row, yarn)
	if len(at) == 0 {
		return 0
	}
	most := 0
	if repeats {
		most = at[0] + stitches - 1 - at[len(at)-1]
	}
	for i := 1; i < len(at); i++ {
		most = max(most, at[i]-at[i-1]-1)
	}
	return most
}

func TestLanternBandFloats(t *testing.T) {
	c := read(t, "lantern-band.chart")
	assert.Equal(t, 24, c.Width())
	long := map[int]int{}
	for row := 1; row <= c.Height(); row++ {
		for yarn := range c.Yarns {
			n := longest(c, row, yarn, true)
			assert.LessOrEqual(t, n, 11, "row %d", row)
			long[n]++
		}
	}
	for n := 7; n <= 11; n++ {
		assert.NotZero(t, long[n], "a float of %d", n)
	}
}

func TestMooringMittenRunsLongOverTheStartOnly(t *testing.T) {
	c := read(t, "mooring-mitten.chart")
	over := 0
	for row := 1; row <= c.Height(); row++ {
		for yarn := range c.Yarns {
			assert.LessOrEqual(t, longest(c, row, yarn, false), limit, "row %d", row)
			if row == c.Height() {
				continue
			}
			lower, stitches := uses(c, row, yarn)
			upper, _ := uses(c, row+1, yarn)
			tail, head := stitches-1-lower[len(lower)-1], upper[0]
			assert.LessOrEqual(t, max(tail, head), limit, "row %d", row)
			if tail+head > limit {
				over++
			}
		}
	}
	assert.Greater(t, over, c.Height()/2)
	assert.Less(t, over, c.Height(), "some rounds are broken up by a stitch")
}

func TestTideYoke(t *testing.T) {
	c := read(t, "tide-yoke.chart")
	assert.Equal(t, 60, c.Height())
	assert.Len(t, c.Yarns, 3)
	assert.Len(t, c.BackgroundYarns(), 2)
	var counts, decreases []int
	threeYarns := 0
	for row := 1; row <= 60; row++ {
		uses, makes := c.StitchSums(row)
		if uses != makes {
			decreases = append(decreases, row)
			counts = append(counts, makes)
		}
		yarns := map[int]bool{}
		for _, cell := range c.Cells(row) {
			if !cell.IsEmpty() {
				yarns[cell.Yarn] = true
			}
		}
		if len(yarns) == 3 {
			threeYarns++
		}
	}
	assert.Equal(t, []int{26, 44, 56}, decreases)
	assert.Equal(t, []int{9, 6, 4}, counts)
	assert.NotZero(t, threeYarns)
}

// A cell that a decrease emptied stays empty, or the columns above would shift.
func TestTideYokeColumnsStayAligned(t *testing.T) {
	c := read(t, "tide-yoke.chart")
	for row := 2; row <= c.Height(); row++ {
		below := c.Cells(row - 1)
		for i, cell := range c.Cells(row) {
			assert.False(t, below[i].IsEmpty() && !cell.IsEmpty(), "row %d column %d", row, i+1)
		}
	}
}

// The first decrease round carries a yarn over a shaped stitch further than the limit.
func TestTideYokeHasALongFloatOverADecrease(t *testing.T) {
	c := read(t, "tide-yoke.chart")
	assert.Equal(t, 8, longest(c, 26, c.YarnIndex('x'), true))
}

func TestPierPanelRests(t *testing.T) {
	c := read(t, "pier-panel.chart")
	rests := map[int]bool{}
	for yarn := range c.Yarns {
		last := 0
		for row := 1; row <= c.Height(); row++ {
			if at, _ := uses(c, row, yarn); len(at) > 0 {
				if last > 0 && row-last > 1 {
					rests[row-last-1] = true
				}
				last = row
			}
		}
	}
	assert.True(t, rests[1] && rests[2] && rests[3], "rests of 1, 2 and 3 rows: %v", rests)
}

func TestNightSeaIsWide(t *testing.T) {
	c := read(t, "night-sea.chart")
	assert.GreaterOrEqual(t, c.Width(), 48)
	assert.GreaterOrEqual(t, c.Height(), 30)
}

func TestPracticeSpans(t *testing.T) {
	c := read(t, practice)
	assert.Equal(t, 4, c.Height())
	assert.Len(t, c.Yarns, 2)
	var spans []int
	for row := 1; row <= 4; row++ {
		spans = append(spans, max(longest(c, row, 0, true), longest(c, row, 1, true)))
	}
	assert.Equal(t, []int{9, 7, 7, 9}, spans)
}
