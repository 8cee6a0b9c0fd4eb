package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// threeRepeats is a row of 9 oat and 1 fjord, three times round: fjord passes 9
// stitches and is caught once in the second and in the third repeat of row 1.
func threeRepeats(t require.TestingT) *worked {
	return begin(t, "x.........\nx.........", func(e *CastOn) { e.Parts[0].Repeats = 3 })
}

// threeYarns has one repeat in which fjord and kelp are both carried.
func threeYarns(t require.TestingT) *worked {
	return begin(t, "kx.......kx", nil)
}

func TestMadeAsShown(t *testing.T) {
	w := threeRepeats(t)
	made, err := madeOf(w.piece, Otherwise{})
	require.NoError(t, err)
	assert.Equal(t, w.piece.Shown(1), made)
	require.Len(t, made, 2)
}

func TestMadeOtherwise(t *testing.T) {
	w := threeRepeats(t)
	require.Equal(t, []Mark{{16, 1}, {26, 1}}, w.piece.Shown(1))
	require.Equal(t, []Catch{{Letter: "a", Stitch: 6, Yarn: w.piece.yarn(1)}}, w.piece.Letters(1))
	for name, c := range map[string]struct {
		Otherwise
		want []Mark
	}{
		"moved in every repeat":         {Otherwise{Moved: "a+1"}, []Mark{{17, 1}, {27, 1}}},
		"moved back":                    {Otherwise{Moved: "a-2"}, []Mark{{14, 1}, {24, 1}}},
		"moved in one":                  {Otherwise{Moved: "a+1@3"}, []Mark{{16, 1}, {27, 1}}},
		"a capital, as strips may have": {Otherwise{Missed: "A"}, nil},
		"missed in one":                 {Otherwise{Missed: "a@2"}, []Mark{{26, 1}}},
		"extra in one":                  {Otherwise{Extra: "9@2"}, []Mark{{16, 1}, {19, 1}, {26, 1}}},
		"extra, with its yarn":          {Otherwise{Extra: "Fjord:9@2"}, []Mark{{16, 1}, {19, 1}, {26, 1}}},
		"all three":                     {Otherwise{"a+1@2", "a@3", "9@3, 1@3"}, []Mark{{17, 1}, {21, 1}, {29, 1}}},
		"extra where carried":           {Otherwise{Missed: "a", Extra: "3"}, []Mark{{13, 1}, {23, 1}}},
		"missed, and made after all":    {Otherwise{Missed: "a@2", Extra: "6@2"}, []Mark{{16, 1}, {26, 1}}},
		"two moved, one after the next": {Otherwise{Moved: "a+1@2,a+1@3"}, []Mark{{17, 1}, {27, 1}}},
	} {
		made, err := madeOf(w.piece, c.Otherwise)
		require.NoError(t, err, name)
		assert.Equal(t, c.want, made, name)
	}
}

func TestMadeRefused(t *testing.T) {
	w := threeRepeats(t)
	require.Equal(t, []Mark{{16, 1}, {26, 1}}, w.piece.Shown(1), "the plan has them near the middle")
	for _, c := range []struct {
		name string
		Otherwise
		want, try string
	}{
		{"no such letter", Otherwise{Moved: "b+1"}, "moved b+1: there is no catch b; round 1 has a (fjord, stitch 6)", ""},
		{"not in that repeat", Otherwise{Missed: "a@1"}, "missed a@1: repeat 1 of round 1 has no catch a", ""},
		{"a number for a letter", Otherwise{Missed: "6"}, "missed 6: a catch is named by its letter; round 1 has a (fjord, stitch 6)", "--missed a"},
		{"a number that is no catch's", Otherwise{Missed: "3@2"}, "missed 3@2: a catch is named by its letter; round 1 has a (fjord, stitch 6)", ""},
		{"a number moved", Otherwise{Moved: "6:7"}, "moved 6:7: a catch is named by its letter; round 1 has a (fjord, stitch 6)", "--moved a+1 for one stitch later, a-1 for one earlier"},
		{"a number and a way", Otherwise{Moved: "6+1"}, "moved 6+1: a catch is named by its letter; round 1 has a (fjord, stitch 6)", "--moved a+1 for one stitch later, a-1 for one earlier"},
		{"no such stitch", Otherwise{Extra: "11"}, "extra 11: there is no stitch 11: a repeat of round 1 has 10 stitches", ""},
		{"stitch 0", Otherwise{Extra: "0"}, "extra 0: there is no stitch 0: a repeat of round 1 has 10 stitches", ""},
		{"no such repeat", Otherwise{Missed: "a@4"}, "missed a@4: there is no repeat 4: round 1 has 3 repeats", ""},
		{"no such yarn", Otherwise{Extra: "fjrd:5"}, "extra fjrd:5: the piece has no yarn fjrd", "fjord"},
		{"a yarn not like any", Otherwise{Extra: "slate:5"}, "extra slate:5: the piece has no yarn slate", "oat, fjord, kelp"},
		{"moved to where it was", Otherwise{Moved: "a+0"}, "moved a+0: that is the stitch it was planned on", ""},
		{"moved onto its own stitch", Otherwise{Moved: "a+4@2"}, "moved a+4@2: fjord is not carried behind repeat 2, stitch 10 of round 1", ""},
		{"moved onto another strand", Otherwise{Moved: "a+5@2"}, "moved a+5@2: another strand of fjord is behind repeat 3, stitch 1; say one was missed and one is extra", "--missed a@2 --extra 1@3"},
		{"moved out of the row", Otherwise{Moved: "a+9@3"}, "moved a+9@3: that would be outside the round", ""},
		{"extra where nothing is carried yet", Otherwise{Extra: "3@1"}, "extra 3@1: no yarn is carried behind stitch 3 of round 1", ""},
		{"extra of a yarn that is not", Otherwise{Extra: "k:9"}, "extra k:9: kelp is not carried behind stitch 9 of round 1", ""},
		{"extra where one is", Otherwise{Extra: "6@2"}, "extra 6@2: fjord is caught there already; an extra catch is one that was not planned", ""},
		{"listed twice", Otherwise{Moved: "a+1", Missed: "a@2"}, "missed a@2: catch a is listed twice", ""},
		{"moved and extra on one", Otherwise{Moved: "a+1@2", Extra: "7@2"}, "extra 7@2: fjord is caught there already; an extra catch is one that was not planned", ""},
	} {
		_, err := madeOf(w.piece, c.Otherwise)
		var e *RefusedError
		require.ErrorAs(t, err, &e, c.name)
		assert.Equal(t, c.want, e.What, c.name)
		assert.Equal(t, cmp.Or(c.try, "strandwise show, for the catches as planned"), strings.Join(e.Try, "\n"), c.name)
	}
}

func TestMadeUnreadable(t *testing.T) {
	w := threeRepeats(t)
	for _, o := range []Otherwise{
		{Moved: "a"},
		{Moved: "ab:6"},
		{Moved: "+1"},
		{Moved: "a+1@"},
		{Moved: "a+1@0"},
		{Moved: "a+1,"},
		{Moved: "a1+1"},
		{Missed: "a+1"},
		{Missed: "five"},
		{Missed: "-5"},
		{Missed: "a@x"},
		{Missed: "99999999"},
		{Extra: "5 6"},
		{Extra: ","},
		{Extra: "@3"},
	} {
		_, err := madeOf(w.piece, o)
		var e *FieldError
		require.ErrorAs(t, err, &e, "%+v", o)
		assert.Contains(t, e.Want, "with commas between")
	}
}

func TestMadeWhereNothingIsPlanned(t *testing.T) {
	w := begin(t, "x.x.x.", nil)
	_, err := madeOf(w.piece, Otherwise{Moved: "a+1"})
	assert.Equal(t, refuse("moved a+1: round 1 has no catches").instead("strandwise show, for the catches as planned"), err)
}

func TestMadeAsksForTheYarn(t *testing.T) {
	w := threeYarns(t)
	_, err := madeOf(w.piece, Otherwise{Extra: "4"})
	assert.EqualError(t, err, "extra 4: fjord and kelp are both there; say which")
	made, err := madeOf(w.piece, Otherwise{Extra: "k:4"})
	require.NoError(t, err)
	assert.Contains(t, made, Mark{4, 2})
}

// A float that runs on into the next repeat is caught there, too.
func TestMovedIntoTheNextRepeat(t *testing.T) {
	w := begin(t, "....x.....", func(e *CastOn) { e.Parts[0].Repeats = 3 })
	shown := w.piece.Shown(1)
	require.NotEmpty(t, shown)
	at := w.piece.PlaceOf(1, shown[0].Stitch)
	made, err := madeOf(w.piece, Otherwise{Moved: fmt.Sprintf("a%d@%d", -at.Stitch-1, at.Repeat)})
	require.NoError(t, err)
	assert.Contains(t, made, Mark{at.Repeat*10 - 11, shown[0].Yarn}, "counted back over the border of the repeats")
	assert.Len(t, made, len(shown))
}

// Whatever is accepted can be logged: in order, each once, on stitches where the yarn
// is carried.
func TestMadeCanBeLogged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := threeRepeats(t)
		item := func(kind string) string {
			s := rapid.StringMatching(`a`).Draw(t, "letter")
			switch kind {
			case "moved":
				s += rapid.StringMatching(`[+-][1-9]`).Draw(t, "by")
			case "extra":
				s = rapid.StringMatching(`(x:)?([1-9]|10)`).Draw(t, "stitch")
			}
			return s + rapid.StringMatching(`(@[1-3])?`).Draw(t, "repeat")
		}
		o := Otherwise{}
		for kind, to := range map[string]*string{"moved": &o.Moved, "missed": &o.Missed, "extra": &o.Extra} {
			if rapid.Bool().Draw(t, kind) {
				*to = item(kind)
			}
		}
		made, err := madeOf(w.piece, o)
		if err != nil {
			var e *RefusedError
			require.ErrorAs(t, err, &e)
			return
		}
		require.NoError(t, w.state.Check(&RowKnit{Row: 1, Shown: w.piece.Shown(1), Used: made}))
		d := w.piece.deviating(1)
		for _, m := range made {
			require.GreaterOrEqual(t, d.under(m.Yarn, m.Stitch), 0)
		}
	})
}

func TestWhatBecameOfTheCatches(t *testing.T) {
	for _, c := range []struct {
		made        []Mark
		fates, runs []string
	}{
		{
			[]Mark{{17, 1}, {29, 1}},
			[]string{"catch a 1 stitch later in repeat 2", "catch a 3 stitches later in repeat 3"},
			[]string{"9 oat (6, catch a, 2) in repeat 2", "9 oat (8, catch a) in repeat 3"},
		},
		{[]Mark{{17, 1}, {27, 1}}, []string{"catch a 1 stitch later in repeats 2 and 3"}, []string{"9 oat (6, catch a, 2) in repeats 2 and 3"}},
		{
			[]Mark{{16, 1}, {28, 1}, {29, 1}},
			[]string{"catch a 2 stitches later in repeat 3", "extra catch of fjord on stitch 9 in repeat 3"},
			[]string{"9 oat (7, catch a, extra catch) in repeat 3"},
		},
		{[]Mark{{16, 1}}, []string{"catch a missed in repeat 3"}, []string{"9 oat, catch a missed in repeat 3"}},
	} {
		w := threeRepeats(t)
		w.row(func([]Mark) []Mark { return c.made })
		assert.Equal(t, c.fates, w.piece.Fates(1, w.piece.Changes(1)))
		runs, _ := w.piece.AsMade(1)
		assert.Equal(t, c.runs, runs)
	}
}

func TestLongGaps(t *testing.T) {
	w := threeRepeats(t)
	w.row(func(shown []Mark) []Mark { return shown[1:] })
	gaps := w.piece.LongGaps(1)
	require.Len(t, gaps, 1)
	assert.Equal(t, Gap{Yarn: w.piece.yarn(1), From: w.piece.Spot(1, 11), To: w.piece.Spot(1, 19), Stitches: 9, Limit: 5, Length: 45}, gaps[0])
	assert.Equal(t, []string{"fjord passes 9 stitches uncaught (limit 5), stitches 1 to 9 in repeat 2"}, w.piece.GapWords(1, gaps))
	w.row(nil)
	assert.Empty(t, w.piece.LongGaps(2), "the gap of the row below is told once")
}

// The strand over the start is judged when the upper row is knitted (arithmetic: 9
// stitches, no catch).
func TestLongGapOverTheStart(t *testing.T) {
	w := begin(t, ".....x....\n.....x....", nil)
	w.row(none)
	assert.Empty(t, w.piece.LongGaps(1))
	w.row(none)
	gaps := w.piece.LongGaps(2)
	require.Len(t, gaps, 1)
	assert.Equal(t, 9, gaps[0].Stitches)
	assert.Equal(t, []string{"fjord passes 9 stitches uncaught (limit 5), round 1, stitch 6 to round 2, stitch 4"}, w.piece.GapWords(2, gaps))
}

// LongGaps of one row after another finds what the review finds in the whole piece.
func TestLongGapsAgreeWithTheReview(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.SampledFrom([]string{"..........", "x.........", ".....x....", "xx......xx", "..x....k..", "k.........", "kkkkkxkkkk"})
		rows := cell.Draw(t, "row")
		for range rapid.IntRange(1, 4).Draw(t, "more") {
			rows += "\n" + cell.Draw(t, "row")
		}
		flat := rapid.Bool().Draw(t, "flat")
		w := beginWith(t, rows, func(e *CastOn) { e.Flat, e.Parts[0].Repeats = flat, rapid.IntRange(1, 3).Draw(t, "repeats") }, quickPlan)
		var found []Gap
		for range w.piece.Rows() {
			w.row(func(shown []Mark) []Mark {
				return slices.DeleteFunc(shown, func(Mark) bool { return rapid.Bool().Draw(t, "missed") })
			})
			found = append(found, w.piece.LongGaps(w.state.Row)...)
		}
		want := w.piece.OverLimit()
		sortByUrgency(found)
		require.Equal(t, len(want), len(found))
		require.ElementsMatch(t, want, found)
	})
}

func TestNextChanged(t *testing.T) {
	w := begin(t, "x.........\nx.........\nx.........", nil)
	w.row(nil)
	assert.False(t, w.piece.Departs(w.piece.State.Next()))
	planned := w.piece.Schedule.Row(3)
	require.NotEmpty(t, planned)
	w.row(func([]Mark) []Mark { return planned })
	assert.True(t, w.piece.Departs(w.piece.State.Next()), "a catch stands right below the planned one")
}
