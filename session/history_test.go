package session

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// told is the last words of an event, after Remember.
func (w *worked) told(seq int) string {
	w.piece.Remember(w.charts)
	return w.piece.Words(w.state.Log[seq-1])
}

// Rows 3 to 5 were worked with pier as the third yarn and ripped out; the chart that took
// their place has rust. What was logged does not change its words.
func TestHistoryKeepsItsYarns(t *testing.T) {
	with := func(yarn, rows string) *chart.Chart {
		c, err := chart.Parse("drawn.chart", []byte("yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nyarn: k kelp #7E9455\n"+yarn+"\nrows:\n"+rows))
		require.NoError(t, err)
		return c
	}
	w := begin(t, ".........x\n.........x\n.........x\n.........x\n.........x", nil)
	w.row(nil)
	w.row(nil)
	w.replan(with("yarn: p pier #555555", "p.........\np.........\np.........\n.........x\n.........x\n"))
	w.row(nil)
	w.row(nil)
	w.row(nil)
	var before []string
	for seq := 1; seq <= len(w.state.Log); seq++ {
		before = append(before, w.told(seq))
	}
	require.Contains(t, before[5], "pier caught: a on 6")
	w.add(&Ripped{Rows: 3})
	w.piece.State = w.state
	w.replan(with("yarn: r rust #AA4433", "r.........\nr.........\nr.........\n.........x\n.........x\n"))
	for seq, words := range before {
		assert.Equal(t, words, w.told(seq+1))
	}
	w.row(nil)
	w.row(nil)
	assert.Contains(t, w.told(len(w.state.Log)), "rust caught: a on 6")
}

// A catch four stitches off is moved where the limit is 9 and stays so when the row
// is ripped out and a limit of 3 is set.
func TestHistoryKeepsItsLimit(t *testing.T) {
	w := begin(t, "x...............\nx...............\nx...............", func(e *CastOn) { e.Limit = 9 })
	w.row(nil)
	w.row(func(m []Mark) []Mark { m[0].Stitch += 4; return m })
	require.Contains(t, w.told(3), "catch a 4 stitches later")
	w.add(&Ripped{Rows: 1}, &Replanned{Limit: 3})
	w.piece.State = w.state
	assert.Contains(t, w.told(3), "catch a 4 stitches later")
}

// A new limit that a press has undone holds no more, also in what is told of rows after it.
func TestHistoryKnowsWhatAPressUndid(t *testing.T) {
	w := begin(t, "x...............\nx...............\nx...............", func(e *CastOn) { e.Limit = 9 })
	w.row(nil)
	w.add(&Replanned{Limit: 3})
	w.add(&Pressed{Event: &Undone{Seq: w.state.CanUndo}, Press: "a1"})
	w.piece.State = w.state
	w.row(func(m []Mark) []Mark { m[0].Stitch += 4; return m })
	assert.Contains(t, w.told(5), "catch a 4 stitches later")
}

// What is undone keeps its words when another row comes in the place of the one it was about.
func TestUndoneCorrectionsKeepTheirWords(t *testing.T) {
	w := begin(t, strings.TrimSuffix(strings.Repeat("x.........\n", 9), "\n"), func(e *CastOn) { e.Parts[0].Repeats = 3 })
	for range 6 { // as many rows as leave room in their list
		w.row(nil)
	}
	e, err := w.piece.Corrected(6, Otherwise{Missed: "b@2"})
	require.NoError(t, err)
	w.add(e)
	seq := len(w.state.Log)
	before := w.told(seq)
	require.Contains(t, before, "catch b missed")
	w.undo()
	w.undo()
	w.add(&RowKnit{Row: 6})
	assert.Equal(t, before+" (undone)", w.told(seq))
}
