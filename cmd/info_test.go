package cmd

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Each letter of ASCII is quoted as the library quotes it.
func TestQuotedIsJSON(t *testing.T) {
	for c := range rune(0x80) {
		want, err := json.Marshal(string(c))
		require.NoError(t, err)
		got, err := quoted(string(c))
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got))
	}
}

// The info of a piece is the JSON that the standard library writes and reads.
func TestInfoIsJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := pieceInfo{
			Name: rapid.String().Draw(t, "name"), Row: rapid.Int().Draw(t, "row"), Of: rapid.Int().Draw(t, "of"),
			At: time.Unix(rapid.Int64Range(0, 1<<36).Draw(t, "at"), rapid.Int64Range(0, 999_999_999).Draw(t, "nanos")).
				In(time.FixedZone("", 60*rapid.IntRange(-840, 840).Draw(t, "zone"))),
			BoundOff: rapid.Bool().Draw(t, "bound off"), Round: rapid.Bool().Draw(t, "round"),
		}
		want, err := json.Marshal(i)
		require.NoError(t, err)
		got, err := i.encode()
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got))
	})
}
