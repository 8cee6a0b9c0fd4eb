package floats

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func item(t *testing.T, word string) Item {
	at := slices.IndexFunc(Items, func(it Item) bool { return it.Word == word })
	require.GreaterOrEqual(t, at, 0)
	return Items[at]
}

// Common practice (a float passes about an inch), arithmetic: stitches in 4 in
// divided by 4, rounded down.
func TestLimitFromGauge(t *testing.T) {
	for _, c := range []struct {
		gauge string
		limit int
	}{
		{"20/4in", 5},
		{"24/4in", 6},
		{"28/4in", 7},
		{"22/4in", 5},
		{"18/4in", 4},
		{"20/10cm", 5},
		{"24/10cm", 6},
		{"24x26/10cm", 6},
		{"22x24/10cm", 5},
		{"23x25/9.5x10cm", 6}, // 23 / 9.5 x 10 = 24.2 in 10 cm
		{"12/5cm", 6},
		{"6/1in", 6},
		{"3/10cm", 3}, // common practice: nobody catches behind two stitches
	} {
		g, err := ParseGauge(c.gauge)
		require.NoError(t, err)
		assert.Equal(t, c.limit, g.Limit(item(t, "general")), c.gauge)
		assert.Equal(t, c.gauge, g.String())
	}
}

// Arithmetic on the lengths of the items, which are choices of this program.
func TestLimitOfItems(t *testing.T) {
	g, err := ParseGauge("24/10cm")
	require.NoError(t, err)
	for word, limit := range map[string]int{"general": 6, "sleeve": 4, "hands-feet": 3, "baby": 3} {
		assert.Equal(t, limit, g.Limit(item(t, word)), word)
	}
	for _, c := range []struct{ gauge, item string }{{"12/10cm", "hands-feet"}, {"12/10cm", "baby"}, {"10/4in", "general"}, {"8x8/10cm", "sleeve"}} {
		g, err := ParseGauge(c.gauge)
		require.NoError(t, err)
		assert.Equal(t, 3, g.Limit(item(t, c.item)), "%s, %s: nobody catches behind two stitches (common practice)", c.gauge, c.item)
	}
	inches, err := ParseGauge("24/4in")
	require.NoError(t, err)
	assert.Equal(t, 3, inches.Limit(item(t, "baby")), "matched units: 4 in counts as 10 cm")
}

// Arithmetic; 1 in is 2.54 cm by definition.
func TestLimitGiven(t *testing.T) {
	for _, c := range []struct {
		limit, gauge string
		want         int
	}{
		{"5", "", 5},
		{"2cm", "24/10cm", 4},
		{"2.5cm", "24/10cm", 6},
		{"25mm", "24/10cm", 6},
		{"3/4in", "20/4in", 3},
		{"1in", "24/4in", 6},
		{"1in", "24/10cm", 6},
		{"2.54cm", "24/4in", 6},
		{"1mm", "20/10cm", 1},
	} {
		var g Gauge
		if c.gauge != "" {
			var err error
			g, err = ParseGauge(c.gauge)
			require.NoError(t, err)
		}
		n, err := ParseLimit(c.limit, g)
		require.NoError(t, err, c.limit)
		assert.Equal(t, c.want, n, "%s at %s", c.limit, c.gauge)
	}
}

func TestGaugesAndLimitsRefused(t *testing.T) {
	for _, text := range []string{"", "20", "20/", "x/10cm", "0/10cm", "20/0cm", "20/10", "-20/10cm", "20x/10cm", "20/10ft", "99999/1cm"} {
		_, err := ParseGauge(text)
		var bad *FormatError
		require.ErrorAs(t, err, &bad, text)
		assert.Contains(t, bad.Want, "/10cm")
	}
	for _, text := range []string{"", "0", "-1", "2cm", "five", "0cm", "3/0in", "10000", "2 ft"} {
		_, err := ParseLimit(text, Gauge{})
		var bad *FormatError
		require.ErrorAs(t, err, &bad, text)
	}
}

// inRow plans a lone float: that many stitches of oat with fjord on both sides.
func inRow(t *testing.T, n, limit int, m Method) []int {
	f := swatch{rows: []string{"x" + strings.Repeat(".", n) + "x"}}.fabric(t)
	var at []int
	for _, c := range planOf(t, f, limit, m).Catches {
		if c.Yarn == f.Yarn('x') {
			at = append(at, c.Stitch-1)
		}
	}
	return at
}

// Common practice, no source.
func TestLoneFloats(t *testing.T) {
	assert.Empty(t, inRow(t, 5, 5, Weave), "at the limit: no catch")
	for n := 6; n <= 30; n++ {
		assert.NotEmpty(t, inRow(t, n, 5, Weave), "over the limit: caught")
	}
	assert.Equal(t, []int{4}, inRow(t, 7, 5, Weave), "near the middle")
	assert.Equal(t, []int{5}, inRow(t, 9, 5, Weave), "4 + 4 when nothing pulls")
	assert.Equal(t, []int{6}, inRow(t, 11, 5, Weave), "5 + 5, never two: catch no oftener than needed")
	assert.Len(t, inRow(t, 12, 4, Weave), 2)
	eight := inRow(t, 8, 5, Weave)
	require.Len(t, eight, 1)
	assert.Contains(t, []int{3, 4, 5, 6}, eight[0])
}

// Arithmetic: a twist lies between two stitches, so n stitches fall into one gap
// more than there are twists.
func TestLoneFloatsTwisted(t *testing.T) {
	assert.Len(t, inRow(t, 11, 5, Twist), 2)
	assert.Len(t, inRow(t, 11, 5, Weave), 1)
	assert.Len(t, inRow(t, 10, 5, Twist), 1)
	assert.Len(t, inRow(t, 6, 5, Twist), 1)
}

// Common practice, no source: stacked in one column, near in neighbouring ones,
// two columns apart fine. Told by the score of the pair alone.
func TestStackedNearAndApart(t *testing.T) {
	f := swatch{rows: []string{"x.........x", "x.........x"}}.fabric(t)
	groups := naiveGroups(f, 5, DefaultRestLimit)
	require.Len(t, groups, 2)
	at := func(a, b int) int { return naiveScore(f, 5, Weave, groups, [][]int{{a}, {b}}) }
	alone := func(p int) int { return naiveScore(f, 5, Weave, groups[:1], [][]int{{p}}) }
	far := at(4, 6) - alone(4)
	assert.Equal(t, 100, at(6, 6)-alone(6)-far)
	assert.Equal(t, 30, at(5, 6)-alone(5)-far)
}

// Arithmetic: 8 stitches to the end of the first round and 2 at the start of the
// next, each within any usual limit's reach, are a float of 10.
func TestFloatOverTheStart(t *testing.T) {
	f := swatch{rows: []string{"........xx..", "........xx.."}}.fabric(t)
	var over []Float
	for _, fl := range f.Floats(DefaultRestLimit) {
		if fl.Yarn == f.Yarn('x') && fl.Kind == OverStart {
			over = append(over, fl)
		}
	}
	assert.Equal(t, []Float{{Yarn: f.Yarn('x'), Kind: OverStart, Row: 0, Stitch: 5, Length: 10}}, over)
}

// Common practice, no source: two-yarn row A2 B7 A5 B7 A2 four times round.
func TestRowOfTwoBlocks(t *testing.T) {
	f := swatch{rows: []string{"xx.......xxxxx.......xx"}, repeats: 4}.fabric(t)
	a, b := f.Yarn('x'), f.Yarn('.')
	require.Equal(t, 92, f.Rows[0].Stitches())
	lengths := map[[2]int]int{}
	for _, fl := range f.Floats(DefaultRestLimit) {
		lengths[[2]int{fl.Yarn, fl.Length}]++
	}
	assert.Equal(t, map[[2]int]int{{a, 7}: 8, {b, 5}: 4, {b, 4}: 3}, lengths, "the 4 runs over each repeat")
	caught := map[int]int{}
	for _, c := range planOf(t, f, 4, Weave).Catches {
		caught[c.Yarn]++
	}
	assert.Equal(t, map[int]int{a: 8, b: 4}, caught, "A twice and B once in each repeat; the 4 never")
}

// A knitter's judgement: catches of equal rounds alternate about the middle.
func TestEqualRoundsAlternate(t *testing.T) {
	row := "x.......x"
	f := swatch{rows: []string{row}, times: 4}.fabric(t)
	var at []int
	for _, c := range planOf(t, f, 5, Weave).Catches {
		at = append(at, c.Stitch-1)
	}
	assert.Contains(t, [][]int{{3, 5, 3, 5}, {5, 3, 5, 3}}, at)
}

// Arithmetic on where a resting yarn waits.
func TestFlatRests(t *testing.T) {
	plain := "......"
	used := "..xx.."
	for _, c := range []struct {
		name    string
		resting int
		kinds   []string
	}{
		{"none", 0, []string{"to-edge 2", "from-edge 2"}},
		{"one: the wrong edge", 1, []string{"to-edge 2", "across 6", "from-edge 2"}},
		{"two", 2, []string{"to-edge 2", "from-edge 2"}},
		{"seven: cut", 7, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			rows := []string{used}
			for range c.resting {
				rows = append(rows, plain)
			}
			f := swatch{rows: append(rows, used), flat: true}.fabric(t)
			var kinds []string
			for _, fl := range f.Floats(DefaultRestLimit) {
				if fl.Yarn == f.Yarn('x') {
					kinds = append(kinds, fl.Kind.String()+" "+string(rune('0'+fl.Length)))
				}
			}
			assert.Equal(t, c.kinds, kinds)
			rests := f.Rests(DefaultRestLimit)
			if c.resting > 0 {
				require.Len(t, rests, 1)
				assert.Equal(t, Rest{Yarn: f.Yarn('x'), FromRow: 1, ToRow: c.resting, Cut: c.resting > 6, Across: c.resting == 1}, rests[0])
			}
		})
	}
}

// A gauge is read however it is written.
func TestGaugesAsTheyAreTyped(t *testing.T) {
	for typed, want := range map[string]string{
		"24 x 26 / 10 cm": "24x26/10cm", "24X26/10CM": "24x26/10cm", "24×26/10cm": "24x26/10cm", "22,5x24/10cm": "22.5x24/10cm",
		"5.5/in": "22/4in", "5,5x6/inch": "22x24/4in", `20x22/4"`: "20x22/4in", "20,5x22/4”": "20.5x22/4in",
		`20 1/2 x 22/4''`: "20.5x22/4in", "20½x22¼/4in": "20.5x22.25/4in", "24 sts x 26 rows per 10 cm": "24x26/10cm",
	} {
		got, err := ParseGauge(typed)
		require.NoError(t, err, typed)
		same, err := ParseGauge(want)
		require.NoError(t, err)
		assert.InDelta(t, same.StitchWidth(), got.StitchWidth(), 1e-9, typed)
		assert.InDelta(t, same.RowHeight(), got.RowHeight(), 1e-9, typed)
	}
}

func TestGaugesAreToldWhichPartIsMissing(t *testing.T) {
	for typed, says := range map[string]string{
		"24x26": "stitches and rows are there, the length is not: 24x26/10cm", "24": "stitches are there, the length is not",
		"24x26/10": "the unit of the length is missing", "/10cm": "the stitches are not", "x26/10cm": "one of stitches and rows is missing",
		"24x26/10ft": "the unit is cm or in", "2 4x26/10cm": "cannot be read", "20 24/10cm": "cannot be read",
	} {
		_, err := ParseGauge(typed)
		bad := &FormatError{}
		require.ErrorAs(t, err, &bad, typed)
		assert.Contains(t, bad.Error()+": "+bad.Want, says, typed)
	}
}
