package follow

import (
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestNote(t *testing.T) {
	k := sitting(t, Options{})
	k.knit(1)
	k.press(time.Second, chars("nslack q u")...)
	k.press(time.Second, Key{Name: Enter})
	notes := k.state().OpenNotes()
	require.Len(t, notes, 1)
	assert.Equal(t, "slack q u", notes[0].Text)
	assert.Equal(t, 2, notes[0].Row)
	assert.Equal(t, "noted", k.s.Said().Text)
	assert.Equal(t, 1, k.state().Row)
}

func TestNoteDropped(t *testing.T) {
	k := sitting(t, Options{})
	k.press(time.Second, chars("nabc")...)
	k.press(time.Second, Key{Name: Escape}, Char("n"), Char(" "), Key{Name: Enter})
	assert.Len(t, k.records, 1)
	assert.Equal(t, knitting, k.s.mode)
}

func TestNoteIsKeptWhenTheWindowCloses(t *testing.T) {
	k := sitting(t, Options{})
	k.press(time.Second, chars("nhalf a")...)
	k.s = k.s.Hangup()
	k.carryOut(k.s.Effects())
	require.Len(t, k.state().OpenNotes(), 1)
	assert.Equal(t, "half a", k.state().OpenNotes()[0].Text)
}

func TestLineEditing(t *testing.T) {
	k := sitting(t, Options{})
	k.press(time.Second, chars("npier")...)
	k.press(time.Second, Key{Name: Home}, Char("a"), Char(" "), Key{Name: Right}, Key{Name: Delete}, Char("ö"))
	assert.Equal(t, "a pöer", k.s.line.string())
	k.press(time.Second, on("", End, Backspace, Left, Left, Backspace, Right)...)
	assert.Equal(t, "a öe", k.s.line.string())
	k.press(time.Second, Key{Paste, "\x1b li\ngh\tt"})
	assert.Equal(t, "a öli gh te", k.s.line.string())
}

func TestLineHoldsTextAndCursor(t *testing.T) {
	keys := append(on("", Left, Right, Home, End, Delete, Backspace), Char("x"), Char("漢"), Key{Paste, "tide  pool"})
	rapid.Check(t, func(t *rapid.T) {
		l := typed{}
		for _, k := range rapid.SliceOf(rapid.SampledFrom(keys)).Draw(t, "keys") {
			before := l
			l = l.edit(k)
			was, is := []rune(before.before+before.after), []rune(l.before+l.after)
			require.True(t, utf8.ValidString(l.before) && utf8.ValidString(l.after))
			switch k.Name {
			case Rune, Paste:
				require.Greater(t, len(is), len(was))
			case Delete, Backspace:
				require.GreaterOrEqual(t, len(is), len(was)-1)
			default:
				require.Equal(t, was, is)
			}
		}
	})
}
