package follow

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/session"
)

var anyKey = rapid.SampledFrom(append(append(
	on("", Unknown, Enter, Left, Right, Up, Down, PageUp, PageDown, Home, End, Delete, Backspace, Tab, Escape, Suspend, Refresh),
	chars("      cccuUnmr?lexp+-zq")...), Key{Paste, "u \r q"}))

var anyTime = rapid.SampledFrom([]time.Duration{
	0, 50 * time.Millisecond, held, time.Second, guard - 1, guard, guard, guard, time.Minute, 20 * time.Minute, time.Hour, -time.Minute,
})

// TestTheLogHoldsWhatWasAcknowledged presses keys at random, with another terminal
// at work and a store that refuses now and then. A row is logged by a forward press on
// the row to work and by nothing else, with the catches that were on the screen, and
// the screen says so exactly when the log has it.
func TestTheLogHoldsWhatWasAcknowledged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := Options{By: rapid.SampledFrom([]By{ByRow, ByRepeat, ByRun}).Draw(t, "by"), Pause: 30 * time.Minute}
		k := sitting(t, o)
		for range rapid.IntRange(1, 60).Draw(t, "keys") {
			switch rapid.IntRange(0, 40).Draw(t, "else") {
			case 0:
				k.refuse = "refused"
			case 1:
				k.append(rapid.SampledFrom(elsewhere(k)).Draw(t, "elsewhere"))
			}
			pressAndCheck(t, k, anyTime.Draw(t, "after"), anyKey.Draw(t, "key"))
			if k.quit != nil {
				k.sit(o)
			}
		}
	})
}

// elsewhere is what another terminal may log.
func elsewhere(k *knitter) []session.Event {
	events := []session.Event{&session.Noted{Text: "elsewhere"}}
	if row := k.state().Next(); row > 0 {
		events = append(events, &session.RowKnit{Row: row}, &session.Paused{Stitch: row})
	}
	if row := k.state().Row; row > 0 {
		events = append(events, &session.Ripped{Rows: 1})
	}
	return events
}

// pressAndCheck presses one key and holds what is said against the log.
func pressAndCheck(t *rapid.T, k *knitter, after time.Duration, key Key) {
	before, logged, refusing := k.s, len(k.records), k.refuse != ""
	k.press(after, key)
	added := k.records[logged:]
	rows := 0
	for _, r := range added {
		e, err := session.Decode(r.Kind, r.Payload)
		require.NoError(t, err)
		if row, is := e.(*session.RowKnit); is {
			rows++
			mayLog(t, before, key, k.now, row)
		}
	}
	require.LessOrEqual(t, rows, 1)
	says := strings.HasPrefix(k.s.Said().Text, fmt.Sprintf("round %d logged", before.toWork())) && k.s.Said() != before.Said()
	require.Equal(t, rows == 1, says, "said: %s", k.s.Said().Text)
	if refusing && k.refuse == "" {
		require.Empty(t, added)
	}
	if len(added) > 0 {
		require.Equal(t, k.state().LastSeq, k.s.Piece().State.LastSeq)
	}
	soundCatches(t, k.s)
	drawsWell(t, k.s)
}

// mayLog holds that the key was one that logs, and the row the one on the screen.
func mayLog(t *rapid.T, before State, key Key, now time.Time, row *session.RowKnit) {
	require.Equal(t, knitting, before.mode)
	whole := key.Name == End
	require.True(t, whole || slices.Contains(bindings(knitting)[0].keys, key), "key %v", key)
	require.False(t, before.looking())
	require.False(t, within(guard, before.armed, now))
	require.Equal(t, before.row, row.Row)
	require.Equal(t, len(before.Used()), len(row.Used))
	for i, m := range before.Used() {
		require.Equal(t, m, row.Used[i])
	}
	if before.o.By != ByRow && !whole {
		require.Equal(t, len(before.stretches())-1, before.step, "the last run or repeat was on the screen")
	}
}

// soundCatches holds that the catches to be logged are possible.
func soundCatches(t *rapid.T, s State) {
	marks := s.Used()
	if s.ended() {
		require.Empty(t, marks)
		return
	}
	order := s.piece.Row(s.toWork()).InOrder()
	for i, m := range marks {
		require.NotEqual(t, order[(m.Stitch-1)%len(order)].Yarn, m.Yarn)
		require.True(t, i == 0 || marks[i-1].Compare(m) < 0)
	}
	if len(s.work().past) == 0 {
		require.Empty(t, s.changed())
	}
}
