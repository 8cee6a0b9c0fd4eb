package draw

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
	"strandwise/cmd/paint"
	"strandwise/session"
)

// bare is a look without colors.
func bare(width int, plain bool) paint.Look {
	return paint.Look{Paint: paint.New(paint.None), Marks: paint.ChooseMarks(paint.ASCII, nil), Width: width, Plain: plain}
}

// The signs on the wrong side stand where strands and catches are, and nowhere else: of what was
// made, of rows to come above it, and of one repeat.
func TestFabricTextTellsTheTruth(t *testing.T) {
	for seed := range uint64(80) {
		of := knitted.Random(seed)
		lower(of, 1+int(seed%2))
		p := of.Knit(t)
		requireSigns(t, WorkedPart(p, p.Review(nil)))
		p = knitted.Blocks(seed).Knit(t)
		requireSigns(t, WorkedPart(p, p.Review(nil)))
		of.Rows, of.Even = int(seed%2), false
		p = of.Knit(t)
		k := WithRowsToCome(p, p.Rows(), p.Review(nil).Mending)
		requireSigns(t, k)
		k.CutRepeats(k.Repeats(), k.Repeats())
		requireSigns(t, k)
	}
	for name := range knitted.Examples(t) {
		requireSigns(t, worked(t, name))
	}
}

func requireSigns(t *testing.T, k *Knitted) {
	t.Helper()
	want, win, lines := expectedSigns(k), k.whole(), signLines(t, k)
	for row := k.Rows; row >= 1; row-- {
		signs := []rune(lines[row][len(lines[row])-1] + strings.Repeat(" ", 1000))
		for column := win.columnFrom; column <= win.columnTo; column++ {
			got, sign := signs[column-win.columnFrom], want[row][column]
			if sign == strandSign {
				require.Contains(t, "-!0123456789", string(got), "row %d, column %d", row, column+1)
			} else {
				require.Equal(t, string(sign), string(got), "row %d, column %d", row, column+1)
			}
		}
	}
}

// expectedSigns lists by row and column a catch's sign, a strand's, or a blank.
func expectedSigns(k *Knitted) map[int][]rune {
	want := map[int][]rune{}
	for row := 1; row <= k.Rows; row++ {
		want[row] = []rune(strings.Repeat(" ", k.Columns()))
	}
	for _, st := range k.Strands {
		at := st.From
		for range st.Length {
			if at.Stitch > k.Piece.Row(at.Row).Stitches() {
				at = session.Spot{Row: at.Row + 1, Stitch: 1}
			}
			want[at.Row][session.ColumnOf(k.Piece.Row(at.Row), at.Stitch)-1] = strandSign
			at.Stitch++
		}
	}
	for row := 1; row <= k.Rows; row++ {
		for _, m := range k.Marks[row-1] {
			sign := map[State]rune{AsPlanned: 'o', NotMade: 'x', Unplanned: '+', Moved: '<', ToMake: 'o'}[m.State]
			if letter := strings.ToUpper(k.Piece.LetterOf(row, m.Mark)); (m.State == AsPlanned || m.State == ToMake) && len(letter) == 1 {
				sign = rune(letter[0])
			}
			for _, move := range movesOf(k, row) {
				if m.State == Moved && move.From == m.Mark && session.ColumnOf(k.Piece.Row(row), move.To.Stitch) > session.ColumnOf(k.Piece.Row(row), m.Stitch) {
					sign = '>' // column 1 is at the left
				}
			}
			want[row][session.ColumnOf(k.Piece.Row(row), m.Stitch)-1] = sign
		}
	}
	return want
}

func TestFabricTextInSentences(t *testing.T) {
	k := worked(t, "practice")
	k.CutRows(2, 2)
	var b bytes.Buffer
	require.NoError(t, FabricText(&b, k, WrongSide, bare(1000, true)))
	assert.Equal(t, "Round 2: oat runs behind stitches 2 to 8, catch A on stitch 4, in every repeat; fjord runs behind stitch 1 in repeat 1; "+
		"fjord runs behind stitch 9 to stitch 1 of the next repeat in repeats 1 and 2; fjord runs behind stitches 9 to 10 in repeat 3.\n", b.String())
	b.Reset()
	require.NoError(t, FabricText(&b, k, RightSide, bare(1000, true)))
	assert.Equal(t, "Round 2, 3 times: 1 oat; 7 fjord: 2, catch A on the next, 4; 2 oat.\n", b.String())
}

// movesOf are the catches that were moved in a finished row.
func movesOf(k *Knitted, row int) []session.Move {
	if row > k.Made {
		return nil
	}
	return k.Piece.Changes(row).Moved
}
