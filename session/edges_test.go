package session

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/chart"
	"strandwise/floats"
)

// The values of this file follow from the charts by hand.

// x and X may be two yarns, so a symbol is matched to the letter, a name is not.
func TestSymbolsAreReadToTheLetter(t *testing.T) {
	w := begin(t, "kkxxk", nil)
	yarns := w.piece.Layout.Fabric.Yarns
	yarns[0].Symbol = 'X'
	runs, err := w.piece.ParseReading("3X 2x 1 FJORD")
	require.NoError(t, err)
	assert.Equal(t, []ReadRun{{3, 0}, {3, 1}}, runs)
	assert.Equal(t, 0, chart.YarnNamed(yarns, "X"))
	assert.Equal(t, 1, chart.YarnNamed(yarns, "x"))
}

// Where two yarns share a place the catch between them is made with one yarn at a time;
// after three rows of it the short form will do, as for any other motion.
func TestAMotionApartIsKnownToo(t *testing.T) {
	w := begin(t, "kkkkkkx.........xxxxx.....", func(e *CastOn) { e.Parts[0].Times = 8 })
	apart := func() SheetMotion {
		for _, m := range w.piece.Sheet(w.state.Row + 1).Motions {
			if m.Apart {
				return m
			}
		}
		return SheetMotion{}
	}
	for range knownAfter {
		require.True(t, apart().Apart)
		require.False(t, apart().Known, w.state.Row)
		w.row(nil)
	}
	assert.True(t, apart().Known)
}

func TestReplanForgetsThePlaceInTheRow(t *testing.T) {
	l := newLog(t, band(), &Paused{Stitch: 8}, &Replanned{Limit: 4})
	assert.Equal(t, 8, l.state.Begun, "another limit leaves the place")
	l.add(&Replanned{Parts: band().Parts})
	assert.Zero(t, l.state.Begun, "another chart does not")
}

func TestNoRowLeft(t *testing.T) {
	w := begin(t, ".......x", nil)
	w.row(nil)
	assert.EqualError(t, w.state.Check(&RowKnit{Row: 2}), "all 1 round are worked; bind off, or rip back to work some again")
	assert.False(t, w.piece.Carried(w.piece.State.Row+1, 3, 1))
}

func TestGripsThatCannotBe(t *testing.T) {
	grip := band().Grip
	require.NoError(t, grip.check())
	grip.Carry = "rotating"
	grip.Hold = "two-hands"
	assert.ErrorContains(t, grip.check(), "cannot go with a rotating carry")
	grip.Hold = "juggling"
	assert.ErrorContains(t, grip.check(), `"juggling"`)
}

// A twist lies before its stitch, a weave on it. After a change of method the strand that
// comes over the start was caught by the one and is caught on by the other, and worked as
// shown no gap is over the limit, whatever the chart; but where one stitch is left above,
// the last, there is none to weave on.
func TestChangeOfMethodInsideAFloatOverTheStart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		row := rapid.StringOfN(rapid.RuneFrom([]rune(".......x")), 9, 9, -1)
		methods := [2]string{"twist", "weave"}
		if rapid.Bool().Draw(t, "weave first") {
			methods = [2]string{"weave", "twist"}
		}
		w := begin(t, row.Draw(t, "row")+"\n"+row.Draw(t, "row"), func(e *CastOn) {
			e.Hold, e.Method, e.Limit = "one-at-a-time", methods[0], rapid.IntRange(2, 4).Draw(t, "limit")
		})
		w.row(nil)
		w.add(&HoldChanged{Grip{Method: methods[1]}})
		w.piece.State = w.state
		plan, err := floats.MakePlan(context.Background(), w.piece.Layout.Fabric, w.state.Task())
		require.NoError(t, err)
		w.piece.Schedule = NewSchedule(plan, w.piece.Rows())
		w.row(nil)
		for _, s := range w.piece.Strands(2, w.piece.used) {
			if above := s.From.Stitch - 1 + s.Length - 9; s.From.Row == 1 && above == 1 {
				continue
			}
			for _, g := range s.Gaps {
				require.LessOrEqual(t, g.Over(), 0, "%+v", s)
			}
		}
	})
}
