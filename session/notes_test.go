package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Arithmetic: fjord on stitches 3 and 4 of rounds of 12 is a float of 8 + 2 over each
// start. The sheet says so in the round that catches it, and nowhere else.
func TestFloatsOverTheStartAreToldWhereTheyAreCaught(t *testing.T) {
	w := begin(t, "........xx..\n........xx..\n........xx..", func(e *CastOn) { e.Limit = 5 })
	told := 0
	for row := 1; row <= 3; row++ {
		s := w.piece.Sheet(row)
		fjordCaught := map[bool]bool{} // before fjord's stitches, and after
		for _, c := range s.Blocks[0].Often.Catches {
			if c.Yarn.Symbol == 'x' {
				fjordCaught[c.Stitch > 4] = true
			}
		}
		var texts []string
		for _, n := range s.Notes {
			if n.Kind == "over-start" {
				texts = append(texts, n.Text)
			}
		}
		var want []string
		if fjordCaught[false] {
			want = append(want, s.Yarns[1].Name+" comes over the start from round "+string(rune('0'+row-1))+": 8 stitches there and 2 here are 10 together, over the limit of 5")
		}
		if fjordCaught[true] {
			want = append(want, s.Yarns[1].Name+" runs over the start of the round: 8 stitches here and 2 of round "+string(rune('0'+row+1))+" are 10 together, over the limit of 5")
		}
		assert.ElementsMatch(t, want, texts, "round %d", row)
		told += len(texts)
	}
	assert.Positive(t, told)
}

// Plain rows seat their yarn as the chart that follows them will, so that it need not
// change hands.
func TestPlainRowsSeatTheirYarnAsTheChartWill(t *testing.T) {
	w := begin(t, "........xx..\n........xx..", func(e *CastOn) {
		e.Parts = append([]PartRef{{Name: "plain", Plain: '.', Rows: 2}}, e.Parts...)
	})
	plain, charted := w.piece.YarnPlaces(2), w.piece.YarnPlaces(3)
	assert.Len(t, plain, 1)
	for _, s := range charted {
		if s.Yarn == plain[0].Yarn {
			assert.Equal(t, plain[0].Place, s.Place)
		}
	}
	assert.False(t, plain[0].Dominant, "oat is the background")
}

// Of yarns used equally the one already in the hand is not the third, whichever is
// worked first.
func TestThirdYarnIsTheOneThatComesNew(t *testing.T) {
	for _, rows := range []string{"kkxx......\nxxxx......", "xxkk......\nxxxx......"} {
		w := begin(t, rows, nil)
		kelp := w.piece.Layout.Fabric.Yarn('k')
		seats := w.piece.YarnPlaces(2)
		assert.Len(t, seats, 3)
		for _, s := range seats {
			assert.Equal(t, s.Yarn.Index == kelp, s.Shares, "%s: yarn %d", rows, s.Yarn.Index)
		}
	}
}

// kindsOf lists the kinds of a row's notes.
func kindsOf(p *Piece, row int) []string {
	var kinds []string
	for _, n := range p.rowShown(row).notes() {
		kinds = append(kinds, n.Kind)
	}
	return kinds
}

// Row 2 has the first catch; row 1 has none, row 3 another one.
func TestSlackIsSpokenOfWithTheFirstCatch(t *testing.T) {
	w := begin(t, "x.x.x.x.x.\nx........x\nx.x.x.x.x.\n", func(*CastOn) {})
	require.Empty(t, w.piece.Shown(1))
	require.NotEmpty(t, w.piece.Shown(2))
	assert.NotContains(t, kindsOf(w.piece, 1), "slack")
	assert.Contains(t, kindsOf(w.piece, 2), "slack")
	assert.NotContains(t, kindsOf(w.piece, 3), "slack")
}

// The limit is five stitches; row 2 is the first in which a strand runs five uncaught.
func TestSlackIsSpokenOfWithTheFirstLongStrand(t *testing.T) {
	w := begin(t, "x.....x\nx.....x\nx..x..x\n", func(e *CastOn) { e.Flat = true })
	require.Equal(t, 5, w.piece.State.Setup.Limit)
	assert.NotContains(t, kindsOf(w.piece, 1), "slack")
	assert.Contains(t, kindsOf(w.piece, 2), "slack")
	assert.NotContains(t, kindsOf(w.piece, 3), "slack")
}

// A strand over the start whose catches in the row below were all missed cannot keep the
// limit any more, whatever is caught in this row; a row above one made as planned says
// nothing.
func TestWhatCanNoLongerBeKeptIsNamed(t *testing.T) {
	w := begin(t, "......x......\n......x......\n......x......\n", func(e *CastOn) { e.Limit = 3 })
	assert.NotContains(t, kindsOf(w.piece, 2), "lost")
	w.row(func([]Mark) []Mark { return nil })
	assert.Contains(t, kindsOf(w.piece, 2), "lost")
}

// How to mend stands with the first entry; how to lift with the first that the next row can
// still reach.
func TestMendingIsExplainedOnce(t *testing.T) {
	w := begin(t, "x.........x\nx.........x\nx.........x\n", func(e *CastOn) { e.Flat = true })
	for range 2 {
		w.row(func([]Mark) []Mark { return nil })
	}
	mends := w.piece.Review(nil).Mending
	require.Greater(t, len(mends), 1)
	tacks, lifts := 0, 0
	for _, m := range mends {
		if m.How != "" && m.Number == 1 {
			tacks++
		}
		if m.To.Row == 2 && m.How != "" {
			lifts++
		}
	}
	assert.Equal(t, 1, tacks)
	assert.Equal(t, 1, lifts)
}
