package floats

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// wide writes a part of blocks out as one chart without repeats, in order of its columns.
func wide(part Part, w Work) *chart.Chart {
	c := &chart.Chart{Yarns: part.Chart.Yarns}
	blocks := part.blocks()
	if w.Mirror {
		slices.Reverse(blocks)
	}
	for r := range part.Chart.Height() * part.Times {
		var row []rune
		for _, b := range blocks {
			row = append(row, slices.Repeat(b.Chart.Rows[r%b.Chart.Height()], b.Repeats)...)
		}
		c.Rows = append(c.Rows, row)
	}
	return c
}

// A piece of blocks has the floats of the same piece as one wide chart, and its plan scores
// there, counted by the twin with the ties of the repeats written out, what it is told to score.
// Small pieces are held against all plans there are.
func TestBlocksAgainstOneWideChart(t *testing.T) {
	rng := rand.New(rand.NewPCG(500, 15))
	pieces, plans, caught := 500, 0, 0
	for i := range pieces {
		part := randomPart(rng, 2+rng.IntN(3), 2+rng.IntN(9), 1+rng.IntN(4), 4)
		part.Times = 1
		for range 1 + rng.IntN(3) {
			beside := randomPart(rng, len(part.Chart.Yarns), 1+rng.IntN(7), part.Chart.Height(), 4)
			beside.Times = 1
			part.Beside = append(part.Beside, beside)
		}
		w := Work{Flat: rng.IntN(2) == 0, Mirror: rng.IntN(4) == 0}
		task := Task{Limit: 2 + rng.IntN(4), Method: Method(rng.IntN(2)), RestLimit: DefaultRestLimit, Effort: 10}
		f, err := Lay([]Part{part}, w)
		require.NoError(t, err)
		one, err := Lay([]Part{{Name: "wide", Chart: wide(part, w), Repeats: 1, Times: 1}}, w)
		require.NoError(t, err)
		require.Equal(t, one.Floats(task.RestLimit), f.Floats(task.RestLimit), "piece %d", i)
		p, err := MakePlan(t.Context(), f, task)
		require.NoError(t, err)
		require.NoError(t, f.Check(p.Catches, task))
		groups, sets := naiveSetsOf(t, f, p)
		require.Equal(t, naiveScore(one, task.Limit, task.Method, groups, sets), p.Score, "piece %d", i)
		long := slices.ContainsFunc(f.Floats(task.RestLimit), func(fl Float) bool { return fl.Length > 9 })
		if best, ok := 0, false; !long {
			best, ok = naiveBest(f, task.Limit, task.Method, 60)
			if !ok {
				continue
			}
			plans++
			require.True(t, p.Proven)
			require.Equal(t, best, p.Score, "piece %d", i)
		}
		caught += len(p.Catches)
	}
	t.Logf("%d pieces, %d of them against all plans, %d catches", pieces, plans, caught)
	assert.Greater(t, plans, 50)
	assert.Greater(t, caught, 1000)
}

func parsed(t *testing.T, rows ...string) *chart.Chart {
	c, err := chart.Parse("test", []byte("yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nrows:\n"+strings.Join(rows, "\n")+"\n"))
	require.NoError(t, err)
	return c
}

// asWorked is a row's yarns in knitting order.
func asWorked(f *Fabric, row int) string {
	text := ""
	for i := range f.Rows[row].Stitches() {
		text += string(f.Yarns[f.Rows[row].Stitch(i+1).Yarn].Symbol)
	}
	return text
}

func TestBlocksInKnittingOrder(t *testing.T) {
	edge, band := parsed(t, "xx", ".."), parsed(t, "..x", ".xx")
	part := Part{Chart: edge, Repeats: 1, Times: 1, Beside: []Part{{Chart: band, Repeats: 2, Times: 1}, {Chart: edge, Repeats: 1, Times: 1}}}
	for _, mirror := range []bool{false, true} {
		f, err := Lay([]Part{part}, Work{Flat: true, Mirror: mirror})
		require.NoError(t, err)
		first, second := "..xx.xx...", "xx..x..xxx"
		if mirror {
			first, second = "...xx.xx..", "xxx..x..xx"
		}
		assert.Equal(t, first, asWorked(f, 0))
		assert.Equal(t, second, asWorked(f, 1))
		assert.Equal(t, Place{Block: 2, Repeat: 2, Stitch: 1}, f.Rows[0].PlaceOf(6))
		assert.Equal(t, Place{Block: 3, Repeat: 1, Stitch: 1}, f.Rows[1].PlaceOf(1), "numbers stay on the wrong side")
		for r := range f.Rows {
			for at := 1; at <= f.Rows[r].Stitches(); at++ {
				require.Equal(t, at, f.Rows[r].StitchAt(f.Rows[r].PlaceOf(at)))
			}
		}
	}
}

// A steek by hand: the round begins within it, stripes go on over the start, and no yarn of the
// two floats over it.
func TestSteek(t *testing.T) {
	f, err := Lay([]Part{{Chart: parsed(t, "..x..", ".xxx."), Repeats: 2, Times: 1, Beside: []Part{{Steek: 5}}}}, Work{})
	require.NoError(t, err)
	assert.Equal(t, "x."+".xxx..xxx."+".x.", asWorked(f, 0))
	assert.Equal(t, "x."+"..x....x.."+".x.", asWorked(f, 1))
	for _, fl := range f.Floats(DefaultRestLimit) {
		assert.False(t, fl.Kind == OverStart && fl.Length > 1, "%v", fl)
	}
}

func TestBlocksThatDoNotFit(t *testing.T) {
	two, three := parsed(t, "x.", ".."), parsed(t, "x.", "..", "xx")
	block := func(c *chart.Chart, times int) Part { return Part{Name: "b", Chart: c, Repeats: 1, Times: times} }
	steek := Part{Name: "steek", Steek: 5}
	for what, part := range map[string]Part{
		"2 rows":                {Name: "a", Chart: two, Repeats: 1, Times: 1, Beside: []Part{block(three, 1)}},
		"2 times 3 rows":        {Name: "a", Chart: two, Repeats: 1, Times: 1, Beside: []Part{block(three, 2)}},
		"first or last":         {Name: "a", Chart: two, Repeats: 1, Times: 1, Beside: []Part{steek, block(two, 1)}},
		"two steeks":            {Name: "a", Steek: 5, Beside: []Part{block(two, 1), steek}},
		"needs a chart":         steek,
		"no width of their own": {Name: "a", Chart: two, Repeats: 1, Times: 1, Beside: []Part{{Name: ".:2", Plain: '.', Rows: 2}}},
	} {
		_, err := Lay([]Part{part}, Work{})
		var blocks *LayError
		require.ErrorAs(t, err, &blocks)
		assert.Contains(t, err.Error(), what)
	}
	_, err := Lay([]Part{{Name: "a", Chart: two, Repeats: 1, Times: 3, Beside: []Part{block(three, 2), steek}}}, Work{Flat: true})
	assert.ErrorContains(t, err, "in the round")
}

// Increases and decreases are spread so that the distances between them differ by one stitch at
// most, and the stitches come out.
func TestSpreadEvenly(t *testing.T) {
	for _, flat := range []bool{false, true} {
		for width := 8; width <= 130; width += 3 {
			for n := 1; n <= width/2; n++ {
				for _, adds := range []int{n, -n} {
					f, err := Lay([]Part{
						{Chart: parsed(t, strings.Repeat(".", width-1)+"x"), Repeats: 1, Times: 1},
						{Name: "plain", Plain: '.', Rows: 2, Adds: adds},
					}, Work{Flat: flat})
					require.NoError(t, err)
					row := f.Rows[2]
					require.Equal(t, width, row.Uses())
					require.Equal(t, width+adds, row.Makes())
					apart, since, seen := []int{}, 0, false
					for at := 1; at <= row.Stitches(); at++ {
						if row.Stitch(at).Technique == chart.Knit {
							since++
							continue
						}
						if seen || !flat {
							apart = append(apart, since)
						}
						since, seen = 0, true
					}
					if len(apart) > 0 {
						require.LessOrEqual(t, slices.Max(apart)-slices.Min(apart), 1, "%d and %d", width, adds)
					}
					if flat && adds > 0 {
						require.Equal(t, chart.Knit, row.Stitch(1).Technique)
						require.Equal(t, chart.Knit, row.Stitch(row.Stitches()).Technique)
					}
				}
			}
		}
	}
	_, err := Lay([]Part{{Chart: parsed(t, "..x"), Repeats: 1, Times: 1}, {Name: ".:1dec2", Plain: '.', Rows: 1, Adds: -2}}, Work{})
	assert.ErrorContains(t, err, "takes 2 of 3 stitches, which can be 1 at most")
}
