package draw

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
	"strandwise/session"
)

// gapInRow is a gap of a piece as far as it lies in one row, with its number in the mending list.
type gapInRow struct {
	row, number, yarn int
	columns           []int // from 0, sorted
}

// gapsOf are all gaps over the limit by row, told by the review and numbered by the mending list.
func gapsOf(t require.TestingT, k *Knitted) []gapInRow {
	var all []gapInRow
	for _, g := range k.Piece.OverLimit() {
		number := numberOf(t, k, g)
		at := g.From
		for row := g.From.Row; row <= g.To.Row; row++ {
			here := gapInRow{row: row, number: number, yarn: g.Yarn.Index}
			last := k.Piece.Row(row).Stitches()
			if row == g.To.Row {
				last = g.To.Stitch
			}
			for ; at.Stitch <= last; at.Stitch++ {
				here.columns = append(here.columns, session.ColumnOf(k.Piece.Row(row), at.Stitch)-1)
			}
			slices.Sort(here.columns)
			all = append(all, here)
			at = session.Spot{Row: row + 1, Stitch: 1}
		}
	}
	return all
}

// told reports whether a line of signs tells a gap: by its number and warnings, or where there is no room for
// a number by a warning, with nothing else on its stitches than the signs of catches.
func (g gapInRow) told(line string) bool {
	signs, number := []rune(line+strings.Repeat(" ", 200)), fmt.Sprint(g.number)
	text, room := "", false
	for i, c := range g.columns {
		text += string(signs[c])
		last := i + len(number) - 1
		room = room || last < len(g.columns) && g.columns[last]-c == len(number)-1
	}
	rest := strings.Replace(text, number, "", 1)
	return !strings.ContainsAny(rest, " -0123456789") && (rest != text || !room && strings.ContainsRune(text, warningSign))
}

// signLines are the lines of signs of each row that FabricText writes above its stitches.
func signLines(t require.TestingT, k *Knitted) map[int][]string {
	var b bytes.Buffer
	require.NoError(t, FabricText(&b, k, WrongSide, bare(1000, false)))
	lines, rows := map[int][]string{}, k.Rows
	digits := len(fmt.Sprint(k.Rows))
	var above []string
	for _, line := range strings.Split(b.String(), "\n") {
		label := fmt.Sprintf("%*d ", digits, rows)
		if !strings.HasPrefix(line+" ", label) || rows == 0 {
			above = append(above, strings.TrimPrefix(line, strings.Repeat(" ", digits+1)))
			continue
		}
		lines[rows], above = above, nil
		rows--
	}
	require.Zero(t, rows)
	return lines
}

// lower bounds how often a piece works its chart, for speed.
func lower(k knitted.Knitting, times int) {
	part := &k.Setup.Parts[0]
	part.Times = min(part.Times, times)
	for i := range part.Beside {
		part.Beside[i].Times = min(part.Beside[i].Times, times)
	}
}

// Every gap over the limit of 500 random pieces stands with its number in the mending list in every form of
// the wrong side: in the picture, its parts, those of a page, the overview and the picture of its place; on a
// terminal in signs and in sentences.
func TestEveryGapIsInEveryForm(t *testing.T) {
	gaps, shared := 0, 0
	for seed := range uint64(500) {
		of := knitted.Random(seed)
		if seed%3 == 0 {
			of = knitted.Blocks(seed)
		}
		lower(of, 2)
		p := of.Knit(t)
		k := WorkedPart(p, p.Review(nil))
		all := gapsOf(t, k)
		lines, sentences := signLines(t, k), plainRows(t, k)
		for _, g := range all {
			require.True(t, slices.ContainsFunc(lines[g.row], g.told), "seed %d, row %d: number %d is in none of %q", seed, g.row, g.number, lines[g.row])
			require.Regexp(t, fmt.Sprintf("number %d to mend\\b", g.number), sentences[g.row-1], "seed %d", seed)
			if len(lines[g.row]) > 1 {
				shared++
			}
		}
		gaps += len(all)
		requireWarned(t, k, readSVG(t, drawn(t, k, WrongSide)))
		if len(all) == 0 {
			continue
		}
		want := map[string]bool{}
		for _, g := range all {
			want[fmt.Sprint(g.number)] = true
		}
		require.Equal(t, want, numbersIn(Overview(k), "pin"), "seed %d: overview", seed)
		require.Equal(t, want, numbersIn(Stack("parts", Parts(k, Options{Side: WrongSide}, 14, 6)), "tag"), "seed %d: parts", seed)
		require.Equal(t, want, numbersIn(Stack("page", OnPage(k, Options{Side: WrongSide})), "tag"), "seed %d: page", seed)
		m := k.Mends[seed%uint64(len(k.Mends))]
		require.Contains(t, numbersIn(Around(k, m), "tag"), fmt.Sprint(m.Number), "seed %d: around", seed)
	}
	assert.Greater(t, gaps, 1000)
	assert.Greater(t, shared, 100, "gaps for which one line of signs is not enough")
}

// numbersIn are the numbers of the mending list that a picture shows.
func numbersIn(s *Scene, class string) map[string]bool {
	found := map[string]bool{}
	eachShape(s.Shapes, func(shape Shape) {
		if shape.Class == class && shape.Kind == Label {
			found[shape.Text] = true
		}
	})
	return found
}

// plainRows are the sentences of the rows.
func plainRows(t require.TestingT, k *Knitted) []string {
	var b bytes.Buffer
	require.NoError(t, FabricText(&b, k, WrongSide, bare(100_000, true)))
	return strings.Split(strings.TrimSpace(b.String()), "\n")
}

// numberOf is the number of a gap in the mending list.
func numberOf(t require.TestingT, k *Knitted, g session.Gap) int {
	at := slices.IndexFunc(k.Mends, func(m session.Mend) bool {
		a, b := k.Piece.PlaceOf(m.From.Row, m.From.Stitch), k.Piece.PlaceOf(g.From.Row, g.From.Stitch)
		return m.Yarn == g.Yarn && m.From.Row == g.From.Row && m.Stitches == g.Stitches && m.To.Row == g.To.Row &&
			a.Stitch == b.Stitch && a.Block == b.Block && slices.Contains(m.Repeats, b.Repeat)
	})
	require.GreaterOrEqual(t, at, 0)
	return at + 1
}
