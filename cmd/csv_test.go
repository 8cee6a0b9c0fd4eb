package cmd

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTable(t *testing.T) {
	var out bytes.Buffer
	w := newTable(&out, "row", "note")
	for _, note := range []string{"plain", "=1+1", "+1", "-1", "@pier", "\ttab", "a,b", "say \"tide\"", "two\nlines", "", "a=b"} {
		w.add("1", note)
	}
	require.NoError(t, w.close())
	assert.Equal(t, "row,note\r\n1,plain\r\n1,'=1+1\r\n1,'+1\r\n1,'-1\r\n1,'@pier\r\n1,'\ttab\r\n"+
		"1,\"a,b\"\r\n1,\"say \"\"tide\"\"\"\r\n1,\"two\r\nlines\"\r\n1,\r\n1,a=b\r\n", out.String())
}

func TestHistoryAsATable(t *testing.T) {
	path := seededStore(t, planted("hat", 1))
	for _, args := range [][]string{{"note", "=1+1, \"tide\""}, {"undo"}} {
		require.Zero(t, onStore(t, path, args...).code)
	}
	got := onStore(t, path, "history", "--csv", "--last", "3")
	require.Zero(t, got.code, got.err)
	records, err := csv.NewReader(strings.NewReader(got.out)).ReadAll()
	require.NoError(t, err)
	require.Len(t, records, 4)
	assert.Equal(t, []string{"number", "at", "kind", "words", "cancelled"}, records[0])
	assert.Equal(t, []string{"3", "note"}, []string{records[2][0], records[2][2]})
	assert.Contains(t, records[2][3], "=1+1, \"tide\"")
	assert.Equal(t, "yes", records[2][4])
	assert.Equal(t, 4, strings.Count(got.out, "\r\n"))
	assert.Equal(t, 2, onStore(t, path, "history", "--csv", "--json").code)
}

func TestTableTellsOfAFailedWrite(t *testing.T) {
	w := newTable(failing{assert.AnError}, "row")
	require.ErrorIs(t, w.close(), assert.AnError)
}
