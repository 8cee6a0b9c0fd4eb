package draw

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/cmd/knitted"
	"strandwise/cmd/paint"
	"strandwise/session"
)

// bare is a look without colors.
func bare(width int, plain bool) paint.Look {
	return paint.Look{Paint: paint.New(paint.None), Marks: paint.ChooseMarks(paint.ASCII, nil), Width: width, Plain: plain}
}

// The signs on the wrong side stand where strands and catches are, and nowhere else.
func TestFabricTextTellsTheTruth(t *testing.T) {
	for seed := range uint64(80) {
		p := knitted.Random(seed).Knit(t)
		k := WorkedPart(p, p.Review(nil))
		var b bytes.Buffer
		require.NoError(t, FabricText(&b, k, WrongSide, 1, k.Rows, bare(1000, false)))
		lines := strings.Split(b.String(), "\n")[1:]
		for !strings.HasPrefix(lines[1], fmt.Sprint(k.Rows)) {
			lines = lines[1:] // a ruler
		}
		want := expectedSigns(k)
		for row := k.Rows; row >= 1; row-- {
			signs := lines[0] + strings.Repeat(" ", 1000)
			digits := len(fmt.Sprint(k.Rows)) + 1
			for column, sign := range want[row] {
				got := rune(signs[digits+column])
				switch {
				case sign == strandSign:
					require.Contains(t, "-!0123456789", string(got), "row %d, column %d", row, column+1)
				default:
					require.Equal(t, string(sign), string(got), "row %d, column %d", row, column+1)
				}
			}
			lines = lines[2:]
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
			sign := map[State]rune{AsPlanned: 'o', NotMade: 'x', Unplanned: '+', Moved: 'x'}[m.State]
			if letter := strings.ToUpper(k.Piece.LetterOf(row, m.Mark)); m.State == AsPlanned && len(letter) == 1 {
				sign = rune(letter[0])
			}
			want[row][session.ColumnOf(k.Piece.Row(row), m.Stitch)-1] = sign
		}
	}
	return want
}

func TestFabricTextInSentences(t *testing.T) {
	p := knitted.Examples(t)["practice"].Knit(t)
	k := WorkedPart(p, p.Review(nil))
	var b bytes.Buffer
	require.NoError(t, FabricText(&b, k, WrongSide, 2, 2, bare(1000, true)))
	assert.Equal(t, "Round 2: oat runs behind stitches 2 to 8, catch A on stitch 4, in every repeat; fjord runs behind stitch 1 in repeat 1; "+
		"fjord runs behind stitch 9 to stitch 1 of the next repeat in repeats 1 and 2; fjord runs behind stitches 9 to 10 in repeat 3.\n", b.String())
	b.Reset()
	require.NoError(t, FabricText(&b, k, RightSide, 2, 2, bare(1000, true)))
	assert.Equal(t, "Round 2, 3 times: 1 oat; 7 fjord: 2, catch A on the next, 4; 2 oat.\n", b.String())
}

// A gap to mend has its number where there is room for it between two signs, unless something
// else stands there: a catch that was not made, or another yarn's strand.
func TestGapsHaveTheirNumbers(t *testing.T) {
	numbered := 0
	for seed := range uint64(80) {
		p := knitted.Random(seed).Knit(t)
		p.State.Segments[0].Limit -= 2 // what was short enough is too long now
		k := WorkedPart(p, p.Review(nil))
		for _, m := range k.Mends {
			number := fmt.Sprint(m.Number)
			within := func(c Mark) bool { return c.Stitch >= m.From.Stitch && c.Stitch <= m.To.Stitch }
			beside := func(s span) bool { return s.Yarn != m.Yarn && s.first <= m.To.Stitch && s.last >= m.From.Stitch }
			if slices.ContainsFunc(k.spans()[m.From.Row-1], beside) || m.From.Row != m.To.Row || m.Stitches < len(number)+2 ||
				slices.ContainsFunc(p.Row(m.From.Row).Cells, chart.Cell.IsEmpty) || slices.ContainsFunc(k.Marks[m.From.Row-1], within) {
				continue
			}
			var b bytes.Buffer
			require.NoError(t, FabricText(&b, k, WrongSide, m.From.Row, m.From.Row, bare(1000, false)))
			require.Contains(t, b.String(), string(warningSign)+number, "seed %d", seed)
			numbered++
		}
	}
	assert.Greater(t, numbered, 10)
}
