package follow

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/paint"
	"strandwise/session"
)

// atRow2 sits down at row 2: worked from the right, 2 fjord, 9 oat with a catch, 1
// fjord.
func atRow2(t *testing.T, o Options) *knitter {
	k := sitting(t, o)
	k.append(&session.RowKnit{Row: 1, Shown: k.s.Used(), Used: k.s.Used()})
	k.sit(o)
	return k
}

func chars(text string) []Key {
	var keys []Key
	for _, c := range text {
		keys = append(keys, Char(string(c)))
	}
	return keys
}

func TestChooseLaterInEveryRepeat(t *testing.T) {
	k := atRow2(t, Options{})
	was := k.s.Used()
	require.NotEmpty(t, was)
	k.press(time.Second, chars("cl")...)
	assert.Equal(t, choosing, k.s.mode)
	require.Len(t, k.s.changed(), 1)
	assert.Regexp(t, `^catch a 1 stitch later in every repeat$`, k.s.changed()[0])
	k.press(time.Second, Key{Name: Enter})
	k.press(guard, Char(" "))
	done := k.state().DoneRow(2)
	assert.Equal(t, was, done.Shown)
	for i, m := range done.Used {
		assert.Equal(t, session.Mark{Stitch: was[i].Stitch + 1, Yarn: was[i].Yarn}, m)
	}
	assert.Contains(t, k.s.Said().Text, "round 2 logged: catch a 1 stitch later in every repeat")
}

func TestChooseOneRepeatOnly(t *testing.T) {
	k := atRow2(t, Options{})
	was := k.s.Used()
	k.press(time.Second, chars("crre")...)
	now := k.s.Used()
	assert.Equal(t, was[0], now[0])
	assert.Equal(t, was[1].Stitch-1, now[1].Stitch)
	assert.Equal(t, was[2:], now[2:])
	assert.Contains(t, k.s.changed()[0], " in repeat 2")
	k.press(time.Second, chars("rm")...)
	assert.Len(t, k.s.Used(), len(was)-1)
	k.press(time.Second, chars("rm")...)
	assert.Empty(t, k.s.Used(), "after the last repeat comes every one again")
}

func TestChooseMissedAndBack(t *testing.T) {
	k := atRow2(t, Options{})
	was := k.s.Used()
	k.press(time.Second, chars("cm")...)
	assert.Empty(t, k.s.Used())
	assert.Contains(t, k.s.changed()[0], "catch a missed in every repeat")
	k.press(time.Second, Char("u"))
	assert.Equal(t, was, k.s.Used())
	k.press(time.Second, chars("mp")...)
	assert.Equal(t, was, k.s.Used())
	k.press(time.Second, Char("u"))
	assert.Empty(t, k.s.Used(), "all as planned is one change")
	k.press(time.Second, Char("l"))
	assert.Equal(t, was[0].Stitch+1, k.s.Used()[0].Stitch, "later than it was planned")
}

func TestChooseExtra(t *testing.T) {
	k := atRow2(t, Options{})
	was := len(k.s.Used())
	k.press(time.Second, chars("cx")...)
	assert.Len(t, k.s.Used(), was+3)
	assert.Contains(t, strings.Join(k.s.changed(), "; "), "extra catch of fjord on stitch 8 in every repeat")
	k.press(time.Second, chars("ll")...)
	require.Len(t, k.s.changed(), 1, "later moves the extra one")
	k.press(time.Second, chars("m")...)
	assert.Len(t, k.s.Used(), was, "an extra one that is missed is none")
	assert.Empty(t, k.s.changed())
}

func TestChooseExtraWhereNothingIsPlanned(t *testing.T) {
	k := sitting(t, Options{})
	k.knit(2)
	k.press(time.Second, chars("cl")...)
	assert.Contains(t, k.s.Said().Text, "no catch; x adds one")
	assert.Equal(t, "x extra  enter done", hints(k.s.offered(false), 80))
	k.press(time.Second, Char("x"))
	assert.Len(t, k.s.Used(), 3)
	k.knit(2)
	k.press(guard, chars("cx")...)
}

func TestChooseRefusesWhatCannotBe(t *testing.T) {
	k := atRow2(t, Options{})
	k.press(time.Second, Char("c"))
	for range 9 {
		k.press(time.Second, Char("l"))
	}
	assert.True(t, k.s.Said().Warn)
	assert.Contains(t, k.s.Said().Text, "is worked in fjord itself")
	for _, m := range k.s.Used() {
		assert.NoError(t, k.s.allows(m))
	}
}

func TestChosenCatchesAreNotLoggedByTheKeyThatEndsChoosing(t *testing.T) {
	k := atRow2(t, Options{})
	k.press(time.Second, chars("cl")...)
	k.press(time.Second, Key{Name: PageDown})
	k.press(held/2, Key{Name: PageDown})
	assert.Equal(t, 1, k.state().Row, "a pedal that bounces")
	k.press(held, Key{Name: PageDown})
	assert.Equal(t, 2, k.state().Row, "the row has been on the screen all the while")
}

func TestUndoTakesAChangedCatchBackFirst(t *testing.T) {
	k := atRow2(t, Options{})
	was := k.s.Used()
	k.press(time.Second, chars("cl")...)
	k.press(time.Second, Key{Name: Escape}, Char("u"))
	assert.Equal(t, was, k.s.Used())
	assert.Equal(t, 1, k.state().Row)
	k.press(time.Second, Char("u"))
	assert.Equal(t, 0, k.state().Row)
}

func TestArrowsChoose(t *testing.T) {
	k := exampleSitting(t, "night-sea", Options{}, nil)
	k.knit(2)
	require.Greater(t, len(k.s.families()), 2)
	k.press(time.Second, Char("c"), Key{Name: Right}, Key{Name: Down})
	assert.Equal(t, 2, k.s.pick.at)
	k.press(time.Second, on("", Left, Up, Up)...)
	assert.Equal(t, 0, k.s.pick.at)
	for range 99 {
		k.press(time.Second, Key{Name: Right})
	}
	assert.Equal(t, len(k.s.families())-1, k.s.pick.at)
}

func TestLeavingKeepsChangedCatchesAsANote(t *testing.T) {
	k := atRow2(t, Options{})
	k.press(time.Second, chars("cm")...)
	k.press(time.Second, Key{Name: Escape}, Char("q"), Key{Name: Enter})
	notes := k.state().OpenNotes()
	require.Len(t, notes, 1)
	assert.Equal(t, 2, notes[0].Row)
	assert.Contains(t, notes[0].Text, "made otherwise: catch a missed")
	assert.NotNil(t, k.quit)
}

// By row nothing tells how far the row is: leaving asks for it, once, and keeps the row as
// it was shown. A place that cannot be is asked for again.
func TestLeavingAsksHowFarTheRowIs(t *testing.T) {
	k := atRow2(t, Options{})
	shown := k.piece().Shown(2)
	k.press(guard, chars("q9999")...)
	k.press(time.Second, Key{Name: Enter})
	assert.Contains(t, k.s.Said().Text, "is too many")
	assert.Nil(t, k.quit)
	k.press(time.Second, on("", Backspace, Backspace, Backspace, Enter)...)
	require.NotNil(t, k.quit)
	assert.Equal(t, &session.RowBegun{Row: 2, Stitch: 9, Shown: shown}, k.state().OnNeedle)

	k = atRow2(t, Options{})
	k.press(guard, Char("q"), Key{Name: Escape})
	assert.Nil(t, k.quit, "escape stays")
	k.press(guard, Char("q"), Key{Name: Enter})
	assert.NotNil(t, k.quit)
	assert.Zero(t, k.state().Begun)
}

// What leaving tells logs the same catches.
func TestLeavingTellsTheFlagsThatLogTheCatches(t *testing.T) {
	for _, keys := range []string{"cl", "crl", "cm", "crm"} {
		k := atRow2(t, Options{})
		k.press(time.Second, chars(keys)...)
		used := k.s.Used()
		k.press(time.Second, Key{Name: Escape}, Char("q"), Key{Name: Enter})
		kept := k.s.Kept()
		assert.Contains(t, k.state().OpenNotes()[0].Text, kept.Words, keys)
		o := session.Otherwise{}
		flag, list, _ := strings.Cut(kept.Flags, " ")
		*map[string]*string{"--moved": &o.Moved, "--missed": &o.Missed}[flag] = list
		changes, err := k.piece().Otherwise(o)
		require.NoError(t, err, kept.Flags)
		assert.Equal(t, used, k.piece().Knit(changes).Used, kept.Flags)
	}
	k := atRow2(t, Options{})
	k.press(time.Second, chars("qq")...)
	assert.Zero(t, k.s.Kept())
	k.press(time.Second, chars("cm")...)
	k.press(time.Second, Key{Name: Escape})
	k.refuse = "the disk is full"
	k.press(time.Second, chars("qq")...)
	assert.Zero(t, k.s.Kept(), "nothing was kept")
}

func TestAnotherTerminalsNoteKeepsTheChanges(t *testing.T) {
	k := atRow2(t, Options{})
	k.press(time.Second, chars("cm")...)
	k.press(time.Second, Key{Name: Escape})
	k.append(&session.Noted{Text: "elsewhere"})
	k.press(time.Second, Char("r"))
	assert.Contains(t, k.s.Said().Text, "another terminal has logged: note: elsewhere")
	assert.Empty(t, k.s.Used())
	k.append(&session.RowKnit{Row: 2})
	k.press(time.Second, Char("r"))
	assert.Equal(t, 3, k.s.row)
	assert.Empty(t, k.s.changed())
}

// A row looked back at is corrected by the same keys; entering logs it at once, and what was
// changed in the row to work is still there.
func TestCorrectingARowLookedBackAt(t *testing.T) {
	k := atRow2(t, Options{})
	k.press(guard, Char(" "))
	require.Equal(t, 2, k.state().Row)
	k.press(time.Second, Key{Name: Left})
	k.press(time.Second, chars("cm")...)
	assert.Equal(t, choosing, k.s.mode)
	assert.Contains(t, strings.Join(shown(t, k.s, lookOf(paint.None, paint.Unicode, 80, false), [2]int{80, 24}), "\n"), "catch a (fjord, stitch 7): missed in every repeat")
	k.press(time.Second, chars("mm")...)
	assert.Empty(t, k.state().DoneRow(2).Changes, "nothing is logged yet; a second m took the first back, a third missed it again")
	k.press(time.Second, Key{Name: Enter})
	assert.Len(t, k.state().DoneRow(2).Changes.Missed, 3)
	assert.Contains(t, k.s.Said().Text, "round 2 corrected: catch a missed in every repeat")
	k.press(time.Second, Char("u"))
	assert.Empty(t, k.state().DoneRow(2).Changes, "undone like anything logged")
}

// A repeat is chosen before the catch or after it, by a digit, the first or the last by a key.
func TestARepeatIsChosenByItsNumber(t *testing.T) {
	k := atRow2(t, Options{})
	was := k.s.Used()
	k.press(time.Second, chars("c3m")...)
	assert.Equal(t, was[:2], k.s.Used())
	k.press(time.Second, Key{Name: Home}, Char("m"))
	assert.Equal(t, was[1:2], k.s.Used())
	k.press(time.Second, Key{Name: End}, Char("m"), Char("0"), Char("?"))
	assert.Equal(t, keys, k.s.mode)
	k.press(time.Second, Char(" "))
	assert.Equal(t, choosing, k.s.mode, "the list of keys closes where it was opened")
	k.press(time.Second, Char("9"))
	assert.Contains(t, k.s.Said().Text, "repeat 9 has no such catch")
}
