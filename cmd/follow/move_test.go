package follow

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/session"
)

func TestEveryForwardKeyLogsOneRow(t *testing.T) {
	for _, key := range append([]Key{Char(" ")}, on("", Enter, Right, PageDown)...) {
		k := sitting(t, Options{})
		k.press(0, key)
		assert.Equal(t, 1, k.state().Row)
		assert.Equal(t, 2, k.s.row)
		assert.Equal(t, "round 1 logged as planned", k.s.Said().Text)
		assert.Equal(t, k.piece().Schedule.Row(1), k.state().DoneRow(1).Used)
	}
}

func TestBackwardKeysOnlyLook(t *testing.T) {
	for _, key := range on("", Left, PageUp, Backspace) {
		k := sitting(t, Options{})
		k.knit(2)
		k.press(time.Second, key, key, key)
		assert.Equal(t, 1, k.s.row)
		assert.Equal(t, "this is the first round", k.s.Said().Text)
		assert.Equal(t, 2, k.state().Row)
		assert.Len(t, k.records, 3)
	}
}

func TestForwardWhileLookingBackLogsNothing(t *testing.T) {
	k := sitting(t, Options{})
	k.knit(3)
	k.press(time.Second, on("", Left, Left)...)
	k.press(time.Second, Char(" "), Char(" "))
	assert.Equal(t, 4, k.s.row)
	k.press(time.Second, Char(" "))
	assert.Equal(t, 3, k.state().Row, "the row to work came up a second ago")
	k.press(time.Second, Char(" "))
	assert.Equal(t, 4, k.state().Row)
}

func TestDoublePressLogsOneRowAndSaysSo(t *testing.T) {
	k := sitting(t, Options{})
	k.press(0, Char(" "))
	k.press(guard-time.Millisecond, Char(" "))
	assert.Equal(t, 1, k.state().Row)
	assert.Equal(t, Saying{"pressed twice: round 2 came up just now, nothing was logged", true}, k.s.Said())
	assert.True(t, k.effects.Ring)
	k.press(held, Char(" "))
	assert.Equal(t, 2, k.state().Row)
}

func TestOnePressAtANewRowIsNotSaidToBeTwo(t *testing.T) {
	k := sitting(t, Options{})
	k.wait(-guard)
	k.press(time.Second, Char(" "))
	assert.Zero(t, k.state().Row)
	assert.Equal(t, Saying{"round 1 came up just now: press again once it is knitted", true}, k.s.Said())
	k.press(guard, Char(" "))
	assert.Equal(t, 1, k.state().Row)
	k.press(time.Minute, Char("u"))
	k.press(time.Second, Char(" "))
	assert.Equal(t, "round 1 came up just now: press again once it is knitted", k.s.Said().Text, "after an undo")
}

func TestAKeyHeldDownLogsOneRow(t *testing.T) {
	k := sitting(t, Options{})
	k.press(0, Char(" "))
	for range 200 {
		k.press(30*time.Millisecond, Char(" "))
	}
	assert.Equal(t, 1, k.state().Row)
	k.press(held, Char(" "))
	assert.Equal(t, 2, k.state().Row)
}

func TestAClockSetBackHoldsNothingUp(t *testing.T) {
	k := sitting(t, Options{})
	k.knit(1)
	k.wait(-time.Hour)
	k.press(0, Char(" "))
	assert.Equal(t, 2, k.state().Row)
}

func TestUndoAndRedo(t *testing.T) {
	k := sitting(t, Options{})
	k.knit(3)
	k.press(time.Second, Char("u"), Char("u"))
	assert.Equal(t, 1, k.state().Row)
	assert.Contains(t, k.s.Said().Text, "undid event 3 (round 2 knitted")
	k.press(time.Second, Char("U"))
	assert.Equal(t, 2, k.state().Row)
	assert.Contains(t, k.s.Said().Text, "redid event 3")
	k.press(time.Second, Char("U"), Char("U"))
	assert.True(t, k.s.Said().Warn)
	assert.Contains(t, k.s.Said().Text, "nothing to redo")
	k.press(time.Second, Char("u"), Char("u"), Char("u"), Char("u"))
	assert.Contains(t, k.s.Said().Text, "a cast-on cannot be undone")
	assert.Equal(t, 0, k.s.Rows())
}

func TestUndoHeldDownUndoesOnce(t *testing.T) {
	k := sitting(t, Options{})
	k.knit(5)
	for range 100 {
		k.press(30*time.Millisecond, Char("u"))
	}
	assert.Equal(t, 4, k.state().Row)
}

func TestARefusedRowIsNotSaidToBeLogged(t *testing.T) {
	k := sitting(t, Options{})
	k.refuse = "the store is busy; nothing was saved"
	k.press(0, Char(" "))
	assert.Equal(t, Saying{"the store is busy; nothing was saved", true}, k.s.Said())
	assert.Equal(t, 1, k.s.row)
	k.press(time.Second, Char(" "))
	assert.Equal(t, 1, k.state().Row, "the row was on the screen all the time: no guard")
}

func TestAtTheEndNothingIsLogged(t *testing.T) {
	k := sitting(t, Options{})
	k.knit(12)
	assert.Equal(t, 10, k.state().Row)
	assert.Equal(t, 11, k.s.row)
	assert.Contains(t, k.s.Said().Text, "all 10 rounds are worked")
	k.press(time.Second, Char("c"))
	assert.True(t, k.s.Said().Warn)
	k.press(time.Second, Char("m"), Char("?"), Char("?"), Key{Name: Left})
	assert.Equal(t, 10, k.s.row)
	k.append(&session.BoundOff{})
	k.press(time.Second, Char("r"))
	k.press(guard, Char(" "), Char(" "))
	assert.Contains(t, k.s.Said().Text, "bound off after round 10")
}

func TestByRunGoesRunByRun(t *testing.T) {
	k := sitting(t, Options{By: ByRun})
	for step := 1; step < 9; step++ { // three runs in each of three repeats
		k.press(time.Second, Char(" "))
		assert.Equal(t, step, k.s.step)
	}
	assert.Equal(t, 0, k.state().Row)
	k.press(time.Second, Char(" "))
	assert.Equal(t, 1, k.state().Row)
	assert.Equal(t, 0, k.s.step)
	k.press(time.Second, Char(" "))
	assert.Equal(t, 0, k.s.step, "within two seconds of the new row")
	k.press(time.Second, Char(" "), Key{Name: Left}, Key{Name: Left})
	assert.Equal(t, 1, k.s.row)
}

func TestByRunKeepsThePlace(t *testing.T) {
	k := sitting(t, Options{By: ByRun})
	k.press(time.Second, Char(" "), Char(" "), Char(" "), Char(" "))
	k.press(time.Second, Char("q"))
	require.NotNil(t, k.quit)
	assert.Equal(t, 17, k.state().Begun, "one repeat of 12 and the first run, 5, of the second")
	k.sit(Options{By: ByRun})
	assert.Equal(t, 4, k.s.step)
	k.press(time.Second, Char("q"))
	assert.Len(t, k.records, 3, "the row begun, the place; one that is kept is not kept again")
}

func TestAPlaceWithinARunStays(t *testing.T) {
	k := sitting(t, Options{By: ByRun})
	k.append(k.piece().Pause(15))
	k.sit(Options{By: ByRun})
	assert.Equal(t, 3, k.s.step)
	k.press(time.Second, Char(" "), Char("u"), Char("q"))
	assert.Equal(t, 15, k.state().Begun)
	assert.Len(t, k.records, 2)
}

func TestByRowKeepsThePlaceAsItIs(t *testing.T) {
	k := sitting(t, Options{})
	k.append(&session.Paused{Stitch: 15})
	k.sit(Options{})
	k.press(time.Second, Char("q"))
	assert.Equal(t, 15, k.state().Begun)
	k.sit(Options{})
	k.knit(1)
	assert.Zero(t, k.state().Begun)
}

func TestInterruptAndHangupKeepThePlaceToo(t *testing.T) {
	k := sitting(t, Options{By: ByRun})
	k.press(time.Second, Char(" "), Key{Name: Interrupt})
	assert.Equal(t, &Quit{Interrupted: true}, k.quit)
	assert.Equal(t, 5, k.state().Begun)
	k.sit(Options{By: ByRun})
	k.press(time.Second, Char(" "))
	k.s = k.s.Hangup()
	k.carryOut(k.s.Effects())
	assert.Equal(t, 7, k.state().Begun)
}

func TestSuspendChangesNothing(t *testing.T) {
	k := sitting(t, Options{})
	k.press(time.Second, Key{Name: Suspend})
	assert.Equal(t, 1, k.slept)
	assert.Len(t, k.records, 1)
}

func TestUnknownAndPastedKeysDoNothing(t *testing.T) {
	k := sitting(t, Options{})
	k.press(time.Second, Key{Name: Unknown}, Key{Paste, "   "}, Char("z"), Key{Name: Tab})
	assert.Len(t, k.records, 1)
}

func TestByRepeatGoesRepeatByRepeat(t *testing.T) {
	k := sitting(t, Options{By: ByRepeat})
	k.press(time.Second, Char(" "), Char(" "))
	assert.Equal(t, 2, k.s.step, "the third of three repeats")
	assert.Equal(t, 24, k.s.place())
	assert.Zero(t, k.state().Row)
	k.press(time.Second, Char(" "))
	assert.Equal(t, 1, k.state().Row)
	k.press(guard, Char(" "), Char("u"))
	assert.Equal(t, 0, k.s.step)
	assert.Contains(t, k.s.Said().Text, "undid event 4 (round 2 begun")
	k.press(guard, Char(" "), Char(" "), Char("u"))
	assert.Equal(t, "back by one repeat; nothing was logged", k.s.Said().Text)
	assert.Equal(t, 1, k.s.step)
}

func TestByRepeatKeepsThePlace(t *testing.T) {
	k := sitting(t, Options{By: ByRepeat})
	k.press(time.Second, Char(" "), Char("q"))
	require.NotNil(t, k.quit)
	assert.Equal(t, 12, k.state().Begun, "one repeat of 12")
	k.sit(Options{By: ByRepeat})
	assert.Equal(t, 1, k.s.step)
	k.press(time.Second, Char("q"))
	assert.Len(t, k.records, 2, "the row begun; a place that is kept is not kept again")
}

func TestAPlaceWithinARepeatStays(t *testing.T) {
	k := sitting(t, Options{By: ByRepeat})
	k.append(k.piece().Pause(15))
	k.sit(Options{By: ByRepeat})
	assert.Equal(t, 1, k.s.step)
	k.press(time.Second, Char(" "), Char("u"), Char("q"))
	assert.Equal(t, 15, k.state().Begun)
	assert.Len(t, k.records, 2)
}

func TestByRepeatADeviationIsOfTheRepeatSheIsIn(t *testing.T) {
	k := sitting(t, Options{By: ByRepeat})
	k.knit(3) // round 1: one catch in each of three repeats
	require.Equal(t, 1, k.state().Row)
	k.press(guard, chars(" cm")...)
	k.press(guard, Key{Name: Enter})
	require.Equal(t, 1, k.s.step)
	k.press(guard, chars("  ")...)
	missed := k.state().DoneRow(2).Changes.Missed
	require.Len(t, missed, 1)
	assert.Equal(t, 2, k.piece().Row(2).PlaceOf(missed[0].Stitch).Repeat)
}

// panels lays lights beside three more of it: two blocks, the second of three repeats.
func panels(on *session.CastOn) {
	beside := on.Parts[0]
	on.Parts[0].Repeats, on.Parts[0].Beside = 1, []session.PartRef{beside}
}

func TestByRepeatGoesThroughTheRepeatsOfEachBlock(t *testing.T) {
	k := sittingOf(t, lights, Options{By: ByRepeat}, panels)
	var places []int
	for k.state().Row == 0 {
		places = append(places, k.s.place())
		k.press(guard, Char(" "))
	}
	assert.Equal(t, []int{0, 12, 24, 36}, places, "block 1, then three repeats of block 2")
	k.press(guard, chars(" cm")...)
	k.press(guard, Key{Name: Enter})
	require.Len(t, told(k.s.catches).Missed, 1)
	at := k.s.sheet.PlaceOf(told(k.s.catches).Missed[0].Stitch)
	assert.Equal(t, [2]int{2, 1}, [2]int{at.Block, at.Repeat})
}
