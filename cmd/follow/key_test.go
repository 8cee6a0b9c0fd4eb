package follow

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// keysSent is what terminals send for keys; common practice, no source.
var keysSent = []struct {
	bytes string
	keys  []Key
}{
	{" ", []Key{Char(" ")}},
	{"\r", on("", Enter)},
	{"\n", on("", Enter)},
	{"\x1b[C", on("", Right)},
	{"\x1bOC", on("", Right)},
	{"\x1b[D", on("", Left)},
	{"\x1b[A\x1b[B", on("", Up, Down)},
	{"\x1b[5~", on("", PageUp)},
	{"\x1b[6~", on("", PageDown)},
	{"\x1b[1~\x1b[4~\x1b[H\x1b[F", on("", Home, End, Home, End)},
	{"\x7f\x08", on("", Backspace, Backspace)},
	{"\x03\x1a\x0c\x04", on("", Interrupt, Suspend, Refresh, Finish)},
	{"u", []Key{Char("u")}},
	{"ö漢", []Key{Char("ö"), Char("漢")}},
	{"\x1b[1;5C", on("", Unknown)},
	{"\x1b[15~q", []Key{{Name: Unknown}, Char("q")}},
	{"\x1b[[Aq", []Key{{Name: Unknown}, Char("q")}},
	{"\x1bq", on("", Unknown)},
	{"\x1b\x1b[C", on("", Escape, Right)},
	{"\x1b[12\x1b[C", on("", Unknown, Right)},
	{"\xff", on("", Unknown)},
	{"\x1b[200~u \r q\x1b[201~u", []Key{{Paste, "u \r q"}, Char("u")}},
	{"\x00", on("", Unknown)},
}

func TestDecoder(t *testing.T) {
	for _, c := range keysSent {
		var d Decoder
		assert.Equal(t, c.keys, d.Feed([]byte(c.bytes)), "%q", c.bytes)
		assert.Zero(t, d.Wait(), "%q", c.bytes)
	}
}

func TestDecoderTakesKeysInPieces(t *testing.T) {
	for _, c := range keysSent {
		var d Decoder
		var keys []Key
		for i := range len(c.bytes) {
			keys = append(keys, d.Feed([]byte{c.bytes[i]})...)
		}
		assert.Equal(t, c.keys, keys, "%q", c.bytes)
	}
}

func TestEscapeAloneNeedsTime(t *testing.T) {
	var d Decoder
	require.Empty(t, d.Feed([]byte{esc}))
	assert.Equal(t, waitForKey, d.Wait())
	assert.Equal(t, on("", Escape), d.Flush())
	assert.Zero(t, d.Wait())
	assert.Empty(t, d.Flush())
}

func TestHalfAKeyIsNone(t *testing.T) {
	for _, half := range []string{"\x1b[", "\x1bO", "\x1b[5", "\xe6\xbc"} {
		var d Decoder
		require.Empty(t, d.Feed([]byte(half)))
		assert.Equal(t, on("", Unknown), d.Flush(), "%q", half)
	}
}

func TestPasteWithoutEnd(t *testing.T) {
	var d Decoder
	require.Empty(t, d.Feed([]byte(pasteBegins+" u")))
	assert.Equal(t, waitForPaste, d.Wait())
	assert.Equal(t, []Key{{Paste, " u"}}, d.Flush())
	assert.Equal(t, []Key{Char("u")}, d.Feed([]byte("u")))
}

// sendsAlike holds that the cut of the bytes into reads makes no difference.
func sendsAlike(t require.TestingT, b []byte, cuts []int) {
	var whole, pieces Decoder
	want := append(whole.Feed(b), whole.Flush()...)
	var got []Key
	from := 0
	for _, cut := range cuts {
		to := min(from+cut, len(b))
		got = append(got, pieces.Feed(b[from:to])...)
		from = to
	}
	got = append(got, pieces.Feed(b[from:])...)
	got = append(got, pieces.Flush()...)
	require.Equal(t, want, got, "%q", b)
}

func TestReadsMakeNoDifference(t *testing.T) {
	piece := rapid.OneOf(
		rapid.SampledFrom([]string{"\x1b", "[", "O", "~", "5", ";", pasteBegins, pasteEnds, "ö", " ", "\r"}),
		rapid.Map(rapid.SampledFrom(keysSent), func(c struct {
			bytes string
			keys  []Key
		},
		) string {
			return c.bytes
		}))
	rapid.Check(t, func(t *rapid.T) {
		text := ""
		for _, p := range rapid.SliceOf(piece).Draw(t, "pieces") {
			text += p
		}
		sendsAlike(t, []byte(text), rapid.SliceOf(rapid.IntRange(0, 4)).Draw(t, "cuts"))
	})
}

func FuzzDecoder(f *testing.F) {
	for _, c := range keysSent {
		f.Add([]byte(c.bytes), 1)
	}
	f.Fuzz(func(t *testing.T, b []byte, cut int) {
		if len(b) > 1<<10 {
			return
		}
		cuts := make([]int, 0, len(b))
		for range b {
			cuts = append(cuts, max(1, cut%7))
		}
		sendsAlike(t, b, cuts)
	})
}
