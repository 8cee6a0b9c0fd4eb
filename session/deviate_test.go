package session

import (
	"fmt"
	"slices"
	"strconv"
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
	at := w.piece.Shown(1)[0].Stitch - 10 // stitch of the repeat
	require.Equal(t, []Mark{{10 + at, 1}, {20 + at, 1}}, w.piece.Shown(1))
	to := at + 1
	for name, c := range map[string]struct {
		Otherwise
		want []Mark
	}{
		"moved in every repeat":         {Otherwise{Moved: text(at, to)}, []Mark{{10 + to, 1}, {20 + to, 1}}},
		"moved in one":                  {Otherwise{Moved: text(at, to) + "@3"}, []Mark{{10 + at, 1}, {20 + to, 1}}},
		"with the symbol of the yarn":   {Otherwise{Moved: "x:" + text(at, to) + "@2"}, []Mark{{10 + to, 1}, {20 + at, 1}}},
		"with its name":                 {Otherwise{Missed: "Fjord:" + text(at, 0)}, nil},
		"missed in one":                 {Otherwise{Missed: text(at, 0) + "@2"}, []Mark{{20 + at, 1}}},
		"extra in one":                  {Otherwise{Extra: "9@2"}, []Mark{{10 + at, 1}, {19, 1}, {20 + at, 1}}},
		"all three":                     {Otherwise{text(at, to) + "@2", text(at, 0) + "@3", "9@3, 1@3"}, []Mark{{10 + to, 1}, {21, 1}, {29, 1}}},
		"extra where carried":           {Otherwise{Missed: text(at, 0), Extra: "3"}, []Mark{{13, 1}, {23, 1}}},
		"two moved, one after the next": {Otherwise{Moved: text(at, to) + "@2," + text(at, to) + "@3"}, []Mark{{10 + to, 1}, {20 + to, 1}}},
	} {
		made, err := madeOf(w.piece, c.Otherwise)
		require.NoError(t, err, name)
		assert.Equal(t, c.want, made, name)
	}
}

// text writes FROM:TO, or FROM alone when to is 0.
func text(from, to int) string {
	if to == 0 {
		return strconv.Itoa(from)
	}
	return fmt.Sprintf("%d:%d", from, to)
}

func TestMadeRefused(t *testing.T) {
	w := threeRepeats(t)
	require.Equal(t, []Mark{{16, 1}, {26, 1}}, w.piece.Shown(1), "the plan has them near the middle")
	for _, c := range []struct {
		name string
		Otherwise
		want, try string
	}{
		{"nothing there", Otherwise{Moved: "3:4"}, "no catch is planned on stitch 3 of round 1; the nearest is fjord on 6", "--moved 6:4"},
		{"nothing there in that repeat", Otherwise{Missed: "6@1"}, "no catch is planned on stitch 6 of repeat 1 of round 1; none is in the round", ""},
		{"the nearest in that repeat", Otherwise{Missed: "2@3"}, "no catch is planned on stitch 2 of repeat 3 of round 1; the nearest is fjord on 6", "--missed 6@3"},
		{"no such stitch", Otherwise{Missed: "11"}, "missed 11: there is no stitch 11: a repeat of round 1 has 10 stitches", ""},
		{"stitch 0", Otherwise{Extra: "0"}, "extra 0: there is no stitch 0: a repeat of round 1 has 10 stitches", ""},
		{"moved to stitch 0", Otherwise{Moved: "5:0"}, "moved 5:0: there is no stitch 0: a repeat of round 1 has 10 stitches", ""},
		{"no such repeat", Otherwise{Missed: "5@4"}, "missed 5@4: there is no repeat 4: round 1 has 3 repeats", ""},
		{"no such yarn", Otherwise{Missed: "fjrd:5"}, "missed fjrd:5: the piece has no yarn fjrd", "fjord"},
		{"a yarn not like any", Otherwise{Missed: "slate:5"}, "missed slate:5: the piece has no yarn slate", "oat, fjord, kelp"},
		{"another yarn than caught", Otherwise{Missed: "k:6"}, "no catch is planned on stitch 6 of round 1; none is in the round", ""},
		{"moved to where it was", Otherwise{Moved: "6:6"}, "moved 6:6: that is the stitch it was planned on", ""},
		{"moved onto its own stitch", Otherwise{Moved: "6:10"}, "moved 6:10: fjord is not carried behind stitch 10 of round 1", ""},
		{"extra where nothing is carried yet", Otherwise{Extra: "3@1"}, "extra 3@1: no yarn is carried behind stitch 3 of round 1", ""},
		{"extra of a yarn that is not", Otherwise{Extra: "k:9"}, "extra k:9: kelp is not carried behind stitch 9 of round 1", ""},
		{"extra where one is", Otherwise{Extra: "6@2"}, "extra 6@2: a catch of fjord is there already; an extra one is one that was not planned", ""},
		{"told twice", Otherwise{Moved: "6:7", Missed: "6@2"}, "missed 6@2: the catch on stitch 6 is told twice", ""},
		{"moved and extra on one", Otherwise{Moved: "6:7@2", Extra: "7@2"}, "extra 7@2: a catch of fjord is there already; an extra one is one that was not planned", ""},
	} {
		_, err := madeOf(w.piece, c.Otherwise)
		var e *DeviationError
		require.ErrorAs(t, err, &e, c.name)
		assert.Equal(t, DeviationError{c.want, c.try}, *e, c.name)
	}
}

// The sheet counts a catch within its run, a flag within the repeat. A number read off
// the sheet must not be answered with another catch that happens to be near.
func TestMadeRefusedForANumberOfTheSheet(t *testing.T) {
	w := begin(t, "x.........x.........xxx...........x", func(e *CastOn) { e.Parts[0].Repeats = 2 })
	require.Equal(t, []SheetCatch{
		{Stitch: 7, InRun: 6, Yarn: 1}, {Stitch: 20, InRun: 5, Yarn: 1}, {Stitch: 30, InRun: 5, Yarn: 1},
	}, w.piece.Sheet(1).Catches)
	for _, c := range []struct {
		Otherwise
		want, try string
	}{
		{Otherwise{Moved: "6:8"}, "no catch is planned on stitch 6 of round 1; (fjord on 6) counts within its run: it is stitch 7 of the repeat", "--moved 7:9"},
		{Otherwise{Missed: "5@2"}, "no catch is planned on stitch 5 of repeat 2 of round 1; (fjord on 5) counts within its run: it is stitch 20 or 30 of the repeat", "--missed 20@2, or --missed 30@2"},
		{Otherwise{Moved: "x:5:34"}, "no catch is planned on stitch 5 of round 1; (fjord on 5) counts within its run: it is stitch 20 or 30 of the repeat", "--moved 20:14, or --moved 30:24"},
		{Otherwise{Missed: "4"}, "no catch is planned on stitch 4 of round 1; the nearest is fjord on 7", "--missed 7"},
	} {
		_, err := madeOf(w.piece, c.Otherwise)
		var e *DeviationError
		require.ErrorAs(t, err, &e)
		assert.Equal(t, DeviationError{c.want, c.try}, *e)
	}
	w = begin(t, "x.........", func(e *CastOn) { e.Parts[0].Repeats = 3 })
	_, err := madeOf(w.piece, Otherwise{Missed: "5@1"})
	require.EqualError(t, err, "no catch is planned on stitch 5 of repeat 1 of round 1; none is in the round", "(fjord on 5) is not in the first repeat")
}

func TestMadeUnreadable(t *testing.T) {
	w := threeRepeats(t)
	for _, o := range []Otherwise{
		{Moved: "5"},
		{Moved: "5-6"},
		{Moved: "5:6:7"},
		{Moved: "5:6@"},
		{Moved: "5:6@0"},
		{Moved: "5:6,"},
		{Moved: "x5:6"},
		{Missed: "5:6"},
		{Missed: "five"},
		{Missed: "-5"},
		{Missed: "5@x"},
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
	_, err := madeOf(w.piece, Otherwise{Moved: "2:3"})
	assert.Equal(t, &DeviationError{"round 1 has no catch planned", "--extra 3"}, err)
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
	from := (shown[0].Stitch-1)%10 + 1
	to := from%10 + 2
	made, err := madeOf(w.piece, Otherwise{Moved: fmt.Sprintf("%d:%d@%d", from, to, (shown[0].Stitch-1)/10+1)})
	require.NoError(t, err)
	assert.Equal(t, len(shown), len(made))
}

// Whatever is accepted can be logged: in order, each once, on stitches where the yarn
// is carried.
func TestMadeCanBeLogged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := threeRepeats(t)
		item := func(kind string) string {
			s := rapid.StringMatching(`(x:)?([1-9]|10)`).Draw(t, "stitch")
			if kind == "moved" {
				s += rapid.StringMatching(`:([1-9]|10)`).Draw(t, "to")
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
			var e *DeviationError
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

func TestChangeWords(t *testing.T) {
	w := threeRepeats(t)
	w.row(func([]Mark) []Mark { return []Mark{{17, 1}, {29, 1}} })
	p := w.piece
	done := p.State.DoneRow(1)
	assert.Equal(t, []string{"fjord made on 7, planned on 6, in repeat 2", "fjord made on 9, planned on 6, in repeat 3"},
		p.ChangeWords(1, p.Compare(1, done.Shown, done.Used)))
	assert.Equal(t, []string{"fjord made on 6, planned on 5, in repeats 2 and 3"},
		p.ChangeWords(1, Changes{Moved: []Move{{Mark{15, 1}, Mark{16, 1}}, {Mark{25, 1}, Mark{26, 1}}}}))
	assert.Equal(t, []string{"fjord missed on 5, in repeat 2", "fjord made on 9 beside the plan, in every repeat"},
		p.ChangeWords(1, Changes{Missed: []Mark{{15, 1}}, Extra: []Mark{{9, 1}, {19, 1}, {29, 1}}}))
}

func TestLongGaps(t *testing.T) {
	w := threeRepeats(t)
	w.row(func(shown []Mark) []Mark { return shown[1:] })
	gaps := w.piece.LongGaps(1)
	require.Len(t, gaps, 1)
	assert.Equal(t, Gap{Yarn: 1, From: Spot{1, 11}, To: Spot{1, 19}, Stitches: 9, Limit: 5, Length: 45}, gaps[0])
	assert.Equal(t, []string{"fjord passes 9 stitches uncaught (limit 5), stitches 1 to 9, in repeat 2"}, w.piece.GapWords(1, gaps))
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
	assert.Equal(t, []string{"fjord passes 9 stitches uncaught (limit 5), over the start of the round"}, w.piece.GapWords(2, gaps))
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
		want := w.piece.Review(nil).Mending
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
