package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// drawn reads a chart given by its rows, top row first.
func drawn(t require.TestingT, rows string) *chart.Chart {
	c, err := chart.Parse("drawn.chart", []byte("yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nyarn: k kelp #7E9455\nempty: _\nrows:\n"+rows+"\n"))
	require.NoError(t, err)
	return c
}

// replan gives the rows to come another chart, named other.
func (w *worked) replan(c *chart.Chart) {
	hash, before := [32]byte{9, byte(len(w.records))}, w.charts
	w.charts = func(h [32]byte) (*chart.Chart, error) {
		if h == hash {
			return c, nil
		}
		return before(h)
	}
	w.add(&Replanned{Parts: []PartRef{{Name: "other", Repeats: 1, Times: 1, Rows: c.Height(), Hash: hash}}})
	w.lay()
}

// Rows of blocks have a twin where they are alike throughout.
func TestTwinOfARowOfBlocks(t *testing.T) {
	beside := func(repeats int) func(*CastOn) {
		return func(e *CastOn) {
			other := e.Parts[0]
			other.Repeats = repeats
			e.Parts[0].Beside = []PartRef{other}
		}
	}
	assert.Equal(t, &Twin{Row: 1, Caught: true}, begin(t, "xx..\n.x.x\nxx..", beside(2)).piece.Sheet(3).Twin)
	assert.Nil(t, begin(t, "xx..\n.x.x\nxx.x", beside(2)).piece.Sheet(3).Twin, "they begin alike, but part")
	assert.Nil(t, begin(t, "....\n.x.x\n....", beside(2)).piece.Sheet(3).Twin, "rows of one yarn have none")
}

// A row below the change was worked from another chart than the row of the new chart
// that would stand there.
func TestTwinIsNotBelowAChangeOfChart(t *testing.T) {
	w := begin(t, ".x.x\n.x.x\n.x.x", nil)
	w.row(nil)
	w.replan(drawn(t, "xx..\n.x.x\nxx.."))
	assert.Nil(t, w.piece.Sheet(3).Twin, "round 1 is oat and fjord by turns")
	assert.Equal(t, &Twin{Row: 1, Caught: true}, begin(t, "xx..\n.x.x\nxx..", nil).piece.Sheet(3).Twin)
}

// Parts are counted within the plan a row is worked from.
func TestPartPlaceAfterAChangeOfChart(t *testing.T) {
	w := begin(t, ".x.x\n.x.x\n.x.x", nil)
	w.row(nil)
	w.replan(drawn(t, "xx..\n.x.x\nxx.."))
	for row, name := range map[int]string{1: "drawn", 2: "other"} {
		place := w.piece.Sheet(row).Part
		assert.Equal(t, []any{name, 1, 1}, []any{place.Name, place.Number, place.Of})
	}
}

// Fjord is the first piece's second yarn and the other's third.
func TestSecondFollowsByTheYarnsThemselves(t *testing.T) {
	text := "yarn: . oat #EFE6D2\nyarn: k kelp #7E9455\nyarn: x fjord #1F4E79\nrows:\n"
	c, err := chart.Parse("turned.chart", []byte(text+"x.........x.........\nx.........x.........\nx.........x.........\n"))
	require.NoError(t, err)
	w := begin(t, "x.........x.........\nx.........x.........\nx.........x.........", nil)
	w.row(nil)
	w.replan(c)
	w.row(func([]Mark) []Mark { return []Mark{{6, 1}, {15, 1}} })
	p := second(t, w, false)
	require.Equal(t, 'x', p.Layout.Fabric.Yarns[2].Symbol)
	p.FollowFirst(w.piece)
	assert.Equal(t, []Mark{{6, 2}, {15, 2}}, p.Schedule.Row(2))
}

// Row 1 of the first was worked from a chart the second does not have, with floats in
// the same places.
func TestSecondDoesNotFollowARowOfAnotherChart(t *testing.T) {
	w := begin(t, "x.........x.........", nil)
	w.row(func([]Mark) []Mark { return []Mark{{15, 1}} })
	w.replan(drawn(t, "x.........x........."+"\n"+"x.........x.kk......"))
	p := second(t, w, false)
	planned := p.Schedule.Row(1)
	require.NotContains(t, planned, Mark{15, 1})
	p.FollowFirst(w.piece)
	assert.Equal(t, planned, p.Schedule.Row(1))
}

// Who names a yarn wants it carried below, however little it is used.
func TestTheYarnNamedIsDominantAmongThree(t *testing.T) {
	for symbol, yarn := range map[string]int{".": 0, "x": 1, "k": 2} {
		p := begin(t, "....xxk", func(e *CastOn) { e.Dominant = symbol }).piece
		assert.Equal(t, yarn, p.YarnPlaces(1)[0].Yarn.Index, symbol)
		assert.True(t, p.YarnPlaces(1)[0].Dominant)
		assert.Len(t, p.YarnPlaces(1), 3)
	}
}

// Rows 2 and 3 took their time, though the piece has no row 3 any more.
func TestPaceAfterAShorterChart(t *testing.T) {
	w := begin(t, ".x.x\n.x.x\n.x.x", nil)
	for range 3 {
		w.row(nil)
	}
	w.add(&Ripped{Rows: 2})
	w.replan(drawn(t, ".x.x\n.x.x"))
	assert.Equal(t, 2, w.piece.Rows())
	assert.Equal(t, w.piece.Review(nil).Time, w.piece.Pace())
	assert.Positive(t, w.piece.Pace().SoFar)
}

// What is used most is counted over the whole row, each block as often as it is repeated.
func TestYarnsAreCountedInAllRepeats(t *testing.T) {
	w := begin(t, "....", nil)
	edge, body := drawn(t, "xxxxx\n....."), drawn(t, "kkx\n...")
	w.charts = func(h [32]byte) (*chart.Chart, error) { return map[byte]*chart.Chart{1: edge, 2: body}[h[0]], nil }
	beside := []PartRef{{Name: "body", Hash: [32]byte{2}, Repeats: 6, Times: 1, Rows: 2}}
	w.add(&Replanned{Parts: []PartRef{{Name: "edge", Hash: [32]byte{1}, Repeats: 1, Times: 1, Rows: 2, Beside: beside}}})
	w.lay()
	names := []string{}
	for _, y := range w.piece.byUse(2) {
		names = append(names, w.piece.yarnName(y))
	}
	assert.Equal(t, []string{"kelp", "fjord"}, names, "12 of kelp, 11 of fjord, though one repeat of each has more of fjord")
}
