package follow

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/session"
)

// hear says lines, one at once after the other.
func (k *knitter) hear(lines ...string) {
	for _, line := range lines {
		s, err := k.s.Hear(line, k.now)
		require.NoError(k.t, err, line)
		k.s = s
		k.carryOut(s.Effects())
	}
}

func TestWordsLogWithoutWaiting(t *testing.T) {
	k := sitting(t, Options{Lines: true})
	k.hear("next", "next", "next", "undo", "undo", "redo", "back", "b", "words", "motion", "show")
	assert.Equal(t, 2, k.state().Row)
	k.hear("note slack at the pier", "quit")
	assert.Equal(t, "slack at the pier", k.state().OpenNotes()[0].Text)
	assert.NotNil(t, k.quit)
}

func TestAnEmptyLineIsAPressedKey(t *testing.T) {
	k := sitting(t, Options{Lines: true})
	k.hear("", "")
	assert.Equal(t, 1, k.state().Row)
	assert.True(t, k.s.Said().Warn)
}

func TestWordsChangeCatches(t *testing.T) {
	k := sitting(t, Options{Lines: true})
	k.hear("next")
	planned := k.s.Used()
	require.Len(t, planned, 3)
	at := planned[0].Stitch
	k.hear("moved a+1@2", "missed a@3")
	assert.Equal(t, []session.Mark{planned[0], {Stitch: planned[1].Stitch + 1, Yarn: 1}}, k.s.Used())
	k.hear("undo")
	assert.Len(t, k.s.Used(), 3)
	k.hear("missed a@3", "extra "+itoa(at+2)+"@1", "next")
	changes := k.s.piece.Changes(2)
	assert.Len(t, changes.Missed, 1)
	assert.Len(t, changes.Extra, 1)
	k.hear("extra 4", "planned", "next")
	assert.Empty(t, k.state().DoneRow(3).Used)
}

func itoa(n int) string { return string(rune('0'+n/10%10)) + string(rune('0'+n%10)) }

func TestWrongWordsChangeNothing(t *testing.T) {
	k := sitting(t, Options{Lines: true})
	for _, c := range []struct{ line, says, try string }{
		{"nxt", `"nxt" is no word of follow`, "next"},
		{"zzzzzzz", "is no word", "words, which lists them"},
		{"next 3", `next stands alone, not with "3"`, "next"},
		{"note", "note needs something after it", "note TEXT"},
		{"moved", "moved needs something after it", "moved a+1"},
	} {
		before := k.s
		s, err := k.s.Hear(c.line, k.now.Add(time.Minute))
		var wrong *WordError
		require.ErrorAs(t, err, &wrong, c.line)
		assert.Contains(t, wrong.What, c.says)
		assert.Equal(t, c.try, wrong.Try)
		assert.Equal(t, before, s)
	}
	for _, line := range []string{"moved 1:2", "missed 99", "extra x", "moved 5"} {
		before := k.s
		s, err := k.s.Hear(line, k.now)
		require.Error(t, err, line)
		assert.Equal(t, before, s)
	}
	k.hear("next", "next", "next", "next", "next", "next", "next", "next", "next", "next")
	_, err := k.s.Hear("moved 1:2", k.now)
	assert.ErrorContains(t, err, "all 10 rounds are worked")
}

func TestEveryWordAndKeyStandsOnce(t *testing.T) {
	seen := map[string]bool{}
	for _, w := range words() {
		for _, name := range []string{w.name, w.letters} {
			assert.False(t, name != "" && seen[name], name)
			seen[name] = true
		}
		assert.NotEmpty(t, w.does)
	}
	for _, m := range []mode{knitting, choosing, motions, keys} {
		seen := map[Key]bool{}
		for _, b := range bindings(m) {
			assert.NotEmpty(t, b.label)
			assert.NotEmpty(t, b.does)
			for _, k := range b.keys {
				assert.False(t, seen[k], "%v", k)
				seen[k] = true
			}
		}
	}
}
