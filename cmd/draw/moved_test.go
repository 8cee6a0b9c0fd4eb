package draw

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
	"strandwise/session"
)

// An arrow is drawn for each catch that was moved, from where it was planned towards where it was
// made, and a cross for each that was missed.
func TestMovesAreArrows(t *testing.T) {
	moves, misses := 0, 0
	check := func(k knitted.Knitting, side Side) {
		p := k.Knit(t)
		worked := WorkedPart(p, p.Review(nil))
		v := newView(worked, worked.whole(), Options{Side: side})
		v.draw("")
		moved, missed := map[int][]session.Mark{}, map[int][]session.Mark{}
		for _, e := range ofClass(readSVG(t, drawn(t, worked, side)), "catch") {
			row := e.number(t, "data-row")
			m := session.Mark{Stitch: e.stitch(t, worked), Yarn: p.Layout.Fabric.Yarn([]rune(e.attr["data-yarn"])[0])}
			switch e.attr["data-catch"] {
			case Moved.String():
				moved[row] = append(moved[row], m)
				figures := decimal.FindAllString(e.attr["d"], -1)
				tip, err := strconv.ParseFloat(figures[6], 64)
				require.NoError(t, err)
				for _, move := range p.Changes(row).Moved {
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
		for row := 1; row <= p.State.Row; row++ {
			changes := p.Changes(row)
			var from []session.Mark
			for _, m := range changes.Moved {
				from = append(from, m.From)
			}
			require.ElementsMatch(t, from, moved[row])
			require.ElementsMatch(t, changes.Missed, missed[row])
			moves, misses = moves+len(from), misses+len(changes.Missed)
		}
	}
	for _, k := range knitted.Examples(t) {
		check(k, WrongSide)
	}
	for seed := range uint64(100) {
		check(knitted.Random(seed), [...]Side{RightSide, WrongSide}[seed%2])
	}
	assert.Greater(t, moves, 50)
	assert.Greater(t, misses, 50)
}
