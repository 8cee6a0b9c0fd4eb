package pdf

import (
	"encoding/hex"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// unescaped reads a literal string back (ISO 32000-1, 7.3.4.2 and Table 3): balanced
// parentheses may stand alone, a backslash escapes, and a carriage return, with a line feed or
// not, counts as a line feed.
func unescaped(t testing.TB, s string) (value, rest string) {
	t.Helper()
	require.True(t, strings.HasPrefix(s, "("))
	signs := map[byte]byte{'n': '\n', 'r': '\r', 't': '\t', 'b': '\b', 'f': '\f'}
	var b []byte
	depth := 0
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch {
		case c == '\\':
			i++
			require.Less(t, i, len(s))
			require.Falsef(t, s[i] >= '0' && s[i] <= '9', "no numbers are written")
			if sign, is := signs[s[i]]; is {
				b = append(b, sign)
			} else {
				b = append(b, s[i])
			}
			continue
		case c == '\r':
			if strings.HasPrefix(s[i+1:], "\n") {
				i++
			}
			c = '\n'
		case c == '(':
			if depth++; depth == 1 {
				continue
			}
		case c == ')':
			if depth--; depth == 0 {
				return string(b), s[i+1:]
			}
		}
		b = append(b, c)
	}
	require.Fail(t, "the string does not end")
	return "", ""
}

func FuzzLiteral(f *testing.F) {
	for _, s := range []string{"", "(", ")", `\`, "a(b)c", "\r\n", "\r", `\r`, `\051`, "\x00\xff\x5c"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		value, rest := unescaped(t, literal(b)+" Tj")
		require.Equal(t, string(b), value)
		require.Equal(t, " Tj", rest)
	})
}

func TestLiterals(t *testing.T) {
	for of, want := range map[string]string{"": "()", "pier": "(pier)", "(a": `(\(a)`, `a\b)`: `(a\\b\))`, "\r\n": "(\\r\n)"} {
		assert.Equal(t, want, literal([]byte(of)))
	}
}

// Text strings are read back by the rules of UTF-16.
func TestTextStrings(t *testing.T) {
	assert.Equal(t, "(\xfe\xff\x00\\(\x00\\\\\x00\xe9\xd8\x3d\xde\xa2)", text("(\\é🚢"))
	rapid.Check(t, func(rt *rapid.T) {
		s := rapid.String().Draw(rt, "text")
		value, _ := unescaped(t, text(s))
		require.True(t, strings.HasPrefix(value, "\xfe\xff"))
		var units []uint16
		for i := 2; i < len(value); i += 2 {
			units = append(units, uint16(value[i])<<8|uint16(value[i+1]))
		}
		require.Equal(t, s, string(utf16.Decode(units)))
	})
}

func TestNames(t *testing.T) {
	assert.Equal(t, "/ABCDEF+Go-Bold_1.x", name("ABCDEF+Go-Bold_1.x"))
	assert.Equal(t, "/a#20b#2Fc#28#23#C3#A9", name("a b/c(#é"))
	rapid.Check(t, func(rt *rapid.T) {
		s := rapid.StringN(0, 20, 60).Draw(rt, "name")
		written := name(s)[1:]
		require.NotContains(t, written, " ")
		parts := strings.Split(written, "#")
		back := parts[0]
		for _, part := range parts[1:] {
			b, err := hex.DecodeString(part[:2])
			require.NoError(t, err)
			back += string(b) + part[2:]
		}
		require.Equal(t, s, back)
	})
}

func TestNumbers(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", -0.0001: "0", 1: "1", -1: "-1", 10: "10", 0.5: "0.5", -0.05: "-0.05", 0.001: "0.001", 12.25: "12.25",
		841.8898: "841.89", 99.9996: "100", 1.101: "1.101", -1234.5: "-1234.5",
	} {
		assert.Equal(t, want, number(v))
	}
	rapid.Check(t, func(rt *rapid.T) {
		v := rapid.Float64Range(-1e6, 1e6).Draw(rt, "number")
		s := number(v)
		back, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(back-v), 0.0005+1e-9)
		require.Equal(t, strconv.FormatFloat(back, 'f', -1, 64), s, "as few signs as it takes")
	})
}
