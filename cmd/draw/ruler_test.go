package draw

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
	"strandwise/session"
)

// twoRows is three repeats of a chart of 12 columns whose rightmost is empty: counted by hand,
// stitch 5 of a round stands in column 6 of its repeat, of a row from the left in column 8.
func twoRows(flat bool) knitted.Knitting {
	return knitted.Knitting{
		Chart: "yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nempty: _\nrows:\n.x.x.x.x.x._\n.x.x.x.x.x._\n", Rows: 2, Even: true,
		Setup: session.CastOn{Name: "pier", Limit: 5, Flat: flat, Parts: []session.PartRef{{Name: "pier.chart", Repeats: 3, Times: 1}}},
	}
}

func TestRulersOnTheTerminal(t *testing.T) {
	for _, c := range []struct {
		flat  bool
		side  Side
		lines []string
	}{
		{false, RightSide, []string{"  10    5     10    5     10    5", "           @3          @2          @1"}},
		{false, WrongSide, []string{"       5   10      5   10      5   10", "   @1          @2          @3"}},
		{true, RightSide, []string{
			"  @1          @2          @3", "      5   10      5   10      5   10",
			"  10    5     10    5     10    5", "           @3          @2          @1",
		}},
	} {
		p := twoRows(c.flat).Knit(t)
		var b bytes.Buffer
		require.NoError(t, FabricText(&b, WorkedPart(p, p.Review(nil)), c.side, bare(100, false)))
		var rulers []string
		for _, line := range strings.Split(b.String(), "\n")[1:] {
			if strings.HasPrefix(line, "  ") && strings.ContainsAny(line, "@5") {
				rulers = append(rulers, line)
			}
		}
		assert.Equal(t, c.lines, rulers)
	}
}

// Below is the ruler of row 1, from the right, above that of row 2, from the left; a repeat's
// name stands in its middle and its border lies between columns 12 and 13.
func TestRulersInPictures(t *testing.T) {
	p := twoRows(true).Knit(t)
	k := WorkedPart(p, p.Review(nil))
	v := newView(k, k.whole(), Options{Side: RightSide})
	v.draw("")
	at := map[string][]float64{}
	for _, s := range v.Shapes {
		x := math.Round((v.left+v.bodyWidth()-s.Points[0].X)/v.cell.X*100) / 100
		switch {
		case s.Class != "number" || x < 0 || x > 36:
		case s.Points[0].Y > v.top:
			at["below "+s.Text] = append(at["below "+s.Text], x)
		default:
			at["above "+s.Text] = append(at["above "+s.Text], x)
		}
	}
	assert.Equal(t, map[string][]float64{
		"below 5": {5.5, 17.5, 29.5}, "below 10": {10.5, 22.5, 34.5}, "below repeat 1": {6}, "below repeat 2": {18}, "below repeat 3": {30},
		"above 5": {31.5, 19.5, 7.5}, "above 10": {26.5, 14.5, 2.5}, "above repeat 1": {30}, "above repeat 2": {18}, "above repeat 3": {6},
	}, at)
	var borders []float64
	for _, s := range v.Shapes {
		for _, inside := range s.Inside {
			if inside.Class == "repeat" {
				borders = append(borders, math.Round((v.left+v.bodyWidth()-inside.Points[0].X)/v.cell.X*100)/100)
			}
		}
	}
	assert.Equal(t, []float64{12, 24}, borders)
}

// Of a part of a piece its picture tells from where to where it shows the lowest row of a chart.
func TestPartsTellTheirPlaces(t *testing.T) {
	p := twoRows(false).Knit(t)
	k := WorkedPart(p, p.Review(nil))
	scenes := Parts(k, Options{Side: WrongSide}, 20, 40)
	require.Len(t, scenes, 2)
	assert.Equal(t, "pier, wrong side, rounds 1 to 2, part 1 of 2, repeat 1 stitch 1 to repeat 2 stitch 6", scenes[0].Name)
	assert.Equal(t, "pier, wrong side, rounds 1 to 2, part 2 of 2, repeat 2 stitch 5 to repeat 3 stitch 11", scenes[1].Name)
}
