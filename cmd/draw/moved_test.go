package draw

import (
	"bytes"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
	"strandwise/session"
)

// requireMoved wants in what was read of a view's drawing an arrow for each catch that was moved, from where it was
// planned towards where it was made, and a cross for each that was missed; it counts them.
func requireMoved(t require.TestingT, v *view, all []element) (moves, misses int) {
	k := v.k
	moved, missed := map[int][]session.Mark{}, map[int][]session.Mark{}
	for _, e := range ofClass(all, "catch") {
		row := e.number(t, "data-row")
		m := session.Mark{Stitch: e.stitch(t, k), Yarn: k.Piece.Layout.Fabric.Yarn([]rune(e.attr["data-yarn"])[0])}
		switch e.attr["data-catch"] {
		case Moved.String():
			moved[row] = append(moved[row], m)
			figures := decimal.FindAllString(e.attr["d"], -1)
			tip, err := strconv.ParseFloat(figures[6], 64)
			require.NoError(t, err)
			for _, move := range k.Piece.Changes(row).Moved {
				if from, to := v.x(v.anchor(row, move.From.Stitch)), v.x(v.anchor(row, move.To.Stitch)); move.From == m {
					require.InDelta(t, to, tip, 0.7*v.cell.X)
					require.Less(t, min(from, to)-0.01, tip)
					require.Greater(t, max(from, to)+0.01, tip)
				}
			}
		case NotMade.String():
			missed[row] = append(missed[row], m)
		}
	}
	for row := 1; row <= k.Made; row++ {
		changes := k.Piece.Changes(row)
		var from []session.Mark
		for _, m := range changes.Moved {
			from = append(from, m.From)
		}
		require.ElementsMatch(t, from, moved[row])
		require.ElementsMatch(t, changes.Missed, missed[row])
		moves, misses = moves+len(from), misses+len(changes.Missed)
	}
	return moves, misses
}

// viewed draws one side and reads it back, by way of SVG.
func viewed(t require.TestingT, k *Knitted, side Side) (*view, []element) {
	v := newView(k, k.whole(), Options{Side: side})
	var b bytes.Buffer
	require.NoError(t, SVG(&b, v.draw("")))
	return v, readSVG(t, b.Bytes())
}

func TestMovesAreArrows(t *testing.T) {
	moves, misses := 0, 0
	check := func(k *Knitted, side Side) {
		v, all := viewed(t, k, side)
		a, b := requireMoved(t, v, all)
		moves, misses = moves+a, misses+b
	}
	for name := range knitted.Examples(t) {
		check(worked(t, name), WrongSide)
	}
	for seed := range uint64(100) {
		p := knitted.Random(seed).Knit(t)
		check(WorkedPart(p, p.Review(nil)), [...]Side{RightSide, WrongSide}[seed%2])
	}
	assert.Greater(t, moves, 50)
	assert.Greater(t, misses, 50)
}
