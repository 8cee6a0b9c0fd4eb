package session

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawValues gives values of any bytes, empty ones too.
func drawValues(t *rapid.T) [][]byte {
	return rapid.SliceOfN(rapid.SliceOfN(rapid.Byte(), 0, 9), 0, 12).Draw(t, "values")
}

func TestTableGivesEveryValueBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := drawValues(t)
		before := rapid.SliceOfN(rapid.Byte(), 0, 5).Draw(t, "before")
		b := appendTable(append([]byte(nil), before...), len(values), func(b []byte, i int) []byte { return append(b, values[i]...) })
		require.Equal(t, string(before), string(b[:len(before)]))
		got, ok := readTable(b[len(before):], len(values))
		require.True(t, ok)
		for i, v := range values {
			require.Equal(t, string(v), string(got.at(i)))
		}
	})
}

// A table is read as the number of values it was written with, and whole, or not at all.
func TestTableThatIsNone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := append(drawValues(t), []byte("tide"))
		b := appendTable(nil, len(values), func(b []byte, i int) []byte { return append(b, values[i]...) })
		for cut := range b {
			_, ok := readTable(b[:cut], len(values))
			require.False(t, ok, cut)
		}
		_, ok := readTable(append([]byte{1}, b...), len(values))
		require.False(t, ok)
	})
}

func FuzzReadTable(f *testing.F) {
	f.Add(appendTable(nil, 2, func(b []byte, i int) []byte { return append(b, "pier"[:i+1]...) }), 2)
	f.Add([]byte{255, 255, 255, 255}, 1)
	f.Fuzz(func(t *testing.T, b []byte, n int) {
		if n < 0 {
			return
		}
		got, ok := readTable(b, n)
		size := 0
		for i := 0; ok && i < n; i++ {
			size += len(got.at(i))
		}
		if ok && size+4*n != len(b) {
			t.Fatal("the values do not fill the table")
		}
	})
}
