package session

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/chart"
)

const unsaid = chart.NoYarn

func TestParseReading(t *testing.T) {
	p := begin(t, "x.k", nil).piece
	for text, want := range map[string][]ReadRun{
		"3 oat 1 fjord 5":       {{3, 0}, {1, 1}, {5, unsaid}},
		"3 oat, 1 fjord, 5 oat": {{3, 0}, {1, 1}, {5, 0}},
		"3oat 1fjord":           {{3, 0}, {1, 1}},
		"3. 1x 5.":              {{3, 0}, {1, 1}, {5, 0}},
		"...x.....":             {{3, 0}, {1, 1}, {5, 0}},
		"... x .....":           {{3, 0}, {1, 1}, {5, 0}},
		"OAT fjord":             {{1, 0}, {1, 1}},
		"2 oat 3 oat":           {{5, 0}},
		"4 1 4":                 {{4, unsaid}, {1, unsaid}, {4, unsaid}},
		"x.k":                   {{1, 1}, {1, 0}, {1, 2}},
	} {
		got, err := p.ParseReading(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

func TestParseReadingFaults(t *testing.T) {
	p := begin(t, "x.k", nil).piece
	for text, want := range map[string]string{
		"":               "no runs were given",
		"3 oats":         `"oats" is no yarn of the piece; it has oat, fjord, kelp`,
		"3 slate":        `"slate" is no yarn of the piece; it has oat, fjord, kelp`,
		"0 oat":          "a run of 0 stitches is not possible",
		"99999999999999": "a run of 99999999999999 stitches is not possible",
		"..q":            `"..q" is no yarn`,
		"3 ..x":          `"..x" is no yarn`,
		"-3 oat":         `"-" is no yarn`,
	} {
		_, err := p.ParseReading(text)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), want)
	}
}

// A name of several words, and one that begins like another.
func TestParseReadingLongNames(t *testing.T) {
	w := begin(t, "x.k", nil)
	w.piece.Layout.Fabric.Yarns[1].Name = "oat straw"
	got, err := w.piece.ParseReading("2 oat straw 1 oat")
	require.NoError(t, err)
	assert.Equal(t, []ReadRun{{2, 1}, {1, 0}}, got)
}

func FuzzParseReading(f *testing.F) {
	p := begin(f, "x.k", nil).piece
	for _, seed := range []string{"3 oat 1 fjord 5", "...x..", "3. 1x", "0", "x,,x", "é", "3\xff"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		runs, err := p.ParseReading(text)
		if err != nil {
			var e *RefusedError
			require.ErrorAs(t, err, &e)
			return
		}
		for i, r := range runs {
			require.Positive(t, r.Stitches)
			require.True(t, i == 0 || r.Yarn == unsaid || r.Yarn != runs[i-1].Yarn)
		}
	})
}

func locate(t require.TestingT, p *Piece, text, below string) Located {
	runs, err := p.ParseReading(text)
	require.NoError(t, err)
	var under []ReadRun
	if below != "" {
		under, err = p.ParseReading(below)
		require.NoError(t, err)
	}
	return p.Locate(runs, under)
}

func TestLocate(t *testing.T) {
	p := begin(t, "..kx......\nx.....x...\n...x.x....\nx.........", func(e *CastOn) { e.Parts[0].Repeats = 2 }).piece
	l := locate(t, p, "1 fjord 1 oat 1 fjord", "")
	assert.True(t, l.Whole)
	require.Len(t, l.Fits, 1)
	assert.Equal(t, RowFit{Row: 2, Stitches: 3, From: 5, Other: 7, Places: 2, places: []needlePlace{{4, false}, {6, true}}}, l.Fits[0])

	l = locate(t, p, "k x", "")
	require.Len(t, l.Fits, 1)
	assert.True(t, l.Fits[0].Backward, "row 4 is knitted x first")

	l = locate(t, p, "4 oat 1 fjord", "")
	assert.Len(t, l.Fits, 4, "from anywhere in the row")

	l = locate(t, p, "9 oat 2 fjord", "")
	assert.False(t, l.Whole)
	assert.Equal(t, RowFit{Row: 1, Stitches: 10, From: 1, Other: 9, Places: 2, places: []needlePlace{{0, false}, {8, true}}}, l.Fits[0])

	assert.Empty(t, locate(t, begin(t, "x...", nil).piece, "2 kelp", "").Fits)
}

// Rows 1 and 3 are alike; the row below tells them apart.
func TestLocateByTheRowBelow(t *testing.T) {
	p := begin(t, ".x.x\nx..x\n.x.x", nil).piece
	l := locate(t, p, "1 1 1 1", "")
	assert.Nil(t, l.Apart)
	require.Len(t, l.Fits, 2)
	l = locate(t, p, "1 1 1 1", "2 x 2 .")
	require.Len(t, l.Fits, 1)
	assert.Equal(t, 3, l.Fits[0].Row)
}

func TestLocateTellsApart(t *testing.T) {
	p := begin(t, "..xx....\nx...x...\nx.......", nil).piece
	l := locate(t, p, "1 fjord 3 oat", "")
	require.Len(t, l.Fits, 3)
	require.NotNil(t, l.Apart)
	yarns := p.Layout.Fabric.Yarns
	assert.Equal(t, Apart{After: 1, Yarns: []ApartYarn{{yarns[0], []int{1, 3}}, {yarns[1], []int{2}}}}, *l.Apart, "row 2 may be read from two places, which agree")
}

// Flat work has edges: nothing runs on over them.
func TestLocateStopsAtTheEdge(t *testing.T) {
	round := begin(t, "x..x......", nil).piece
	flat := begin(t, "x..x......", func(e *CastOn) { e.Flat = true }).piece
	assert.True(t, locate(t, round, "1 fjord 6 oat", "").Whole)
	assert.True(t, locate(t, round, "x ...... x", "").Whole)
	assert.False(t, locate(t, flat, "x ...... x", "").Whole)
	assert.True(t, locate(t, flat, "1 fjord 6 oat", "").Whole, "against the order of knitting")
}

// Whatever is read off a row, that row is among those that fit; so says a search with
// strings.
func TestLocateAgreesWithSearchingText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(3, 9).Draw(t, "width")
		row := rapid.StringOfN(rapid.RuneFrom([]rune(".xk")), width, width, -1)
		rows := rapid.SliceOfN(row, 1, 4).Draw(t, "rows")
		flat := rapid.Bool().Draw(t, "flat")
		w := beginWith(t, strings.Join(rows, "\n"), func(e *CastOn) { e.Flat = flat }, quickPlan)
		word := rapid.StringOfN(rapid.RuneFrom([]rune(".xk")), 1, width, -1).Draw(t, "reading")
		l := locate(t, w.piece, word, "")
		var want []string
		for i := range rows {
			line := rows[len(rows)-1-i]
			if !flat {
				line += line[:len(word)-1]
			}
			if strings.Contains(line, word) || strings.Contains(line, reversed(word)) {
				want = append(want, fmt.Sprint(i+1))
			}
		}
		var got []string
		for _, f := range l.Fits {
			if l.Whole {
				got = append(got, fmt.Sprint(f.Row))
			}
		}
		require.Equal(t, want, got)
	})
}

func reversed(s string) string {
	b := []byte(s)
	for i, j := 0, len(b)-1; i < j; i, j = i+1, j-1 {
		b[i], b[j] = b[j], b[i]
	}
	return string(b)
}

// Flat work is read from either side, so the direction is not known: a stitch tells rows
// apart only where they differ whichever way they are read.
func TestLocateTellsApartInEitherDirection(t *testing.T) {
	p := begin(t, "k.x.x..\n..x.x.k", func(e *CastOn) { e.Flat = true }).piece
	l := locate(t, p, "1 x 1 . 1 x", "")
	require.Len(t, l.Fits, 2)
	for _, f := range l.Fits {
		assert.Equal(t, 2, f.Places)
		assert.Positive(t, f.Other)
	}
	assert.Nil(t, l.Apart, "the rows are alike but for the direction")

	p = begin(t, "kkx.xkk\n..x.x..\n..x.xkk", func(e *CastOn) { e.Flat = true }).piece
	l = locate(t, p, "1 x 1 . 1 x", "")
	require.NotNil(t, l.Apart)
	yarns := p.Layout.Fabric.Yarns
	assert.Equal(t, Apart{After: 1, Yarns: []ApartYarn{{yarns[0], []int{2}}, {yarns[2], []int{3}}}, Unsure: []int{1}}, *l.Apart)
}

// Whoever reads on from where she began, either way, finds the row that is on her needles
// among those told for the stitch she sees, or among those that depend.
func TestReadingOnNeverRulesTheRightRowOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(3, 9).Draw(t, "width")
		row := rapid.StringOfN(rapid.RuneFrom([]rune(".x")), width, width, -1)
		rows := rapid.SliceOfN(row, 2, 4).Draw(t, "rows")
		flat := rapid.Bool().Draw(t, "flat")
		w := beginWith(t, strings.Join(rows, "\n"), func(e *CastOn) { e.Flat = flat }, quickPlan)
		number := rapid.IntRange(1, len(rows)).Draw(t, "row")
		needle := rows[len(rows)-number]
		if rapid.Bool().Draw(t, "turned") {
			needle = reversed(needle)
		}
		from := rapid.IntRange(0, width-1).Draw(t, "from")
		line := needle[from:]
		if !flat {
			line += needle[:from]
		}
		read := rapid.IntRange(1, len(line)).Draw(t, "read")
		l := locate(t, w.piece, line[:read], "")
		if l.Apart == nil {
			return
		}
		sees := rune(0)
		if at := read + l.Apart.After - 1; at < len(line) {
			sees = rune(line[at])
		}
		told := slices.Contains(l.Apart.Unsure, number)
		for _, y := range l.Apart.Yarns {
			told = told || y.Yarn.Symbol == sees && slices.Contains(y.Rows, number)
		}
		require.True(t, told, "%+v, she sees %c", *l.Apart, sees)
	})
}

func TestWhatIsOpen(t *testing.T) {
	w := begin(t, "kkkkkkkkkk\nx.........\nx.........\nx.........", func(e *CastOn) { e.Parts[0].Repeats = 2 })
	w.row(nil)
	w.row(none)
	w.add(&Noted{Text: "the lower needle", Row: 3}, &Noted{Text: "done with"}, &NoteClosed{Seq: 5}, &Paused{Stitch: 7})
	w.piece.State = w.state
	assert.Empty(t, w.piece.Sheet(2).Blocks[0].Often.Catches, "what was made, not what was shown")
	assert.Equal(t, 7, w.piece.Sheet(3).Begun)
	assert.Equal(t, []int{2}, w.piece.Missed())
	assert.Len(t, w.piece.OverLimit(), 2, "one within the round, one over its start")
	require.Len(t, w.state.OpenNotes(), 1)
	assert.Equal(t, "the lower needle", w.state.OpenNotes()[0].Text)
}

func TestRestingYarns(t *testing.T) {
	for limit, cut := range map[int]bool{6: false, 1: true} {
		w := begin(t, "x.........\n..........\n..........\nx.........", func(e *CastOn) { e.RestLimit = limit })
		rests := w.piece.Resting(2)
		require.Len(t, rests, 1)
		assert.Equal(t, "fjord", w.piece.yarnName(rests[0].Yarn))
		assert.Equal(t, 4, rests[0].ToRow+2, "the row in which it is used again")
		assert.Equal(t, cut, rests[0].Cut)
	}
}
