package frame

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTable(t *testing.T) {
	var out bytes.Buffer
	w := NewTable(&out, "row", "note")
	for _, note := range []string{"plain", "=1+1", "+1", "-1", "@pier", "\ttab", "a,b", "say \"tide\"", "two\nlines", "", "a=b"} {
		w.Add("1", note)
	}
	require.NoError(t, w.Close())
	assert.Equal(t, "row,note\r\n1,plain\r\n1,'=1+1\r\n1,'+1\r\n1,'-1\r\n1,'@pier\r\n1,'\ttab\r\n"+
		"1,\"a,b\"\r\n1,\"say \"\"tide\"\"\"\r\n1,\"two\r\nlines\"\r\n1,\r\n1,a=b\r\n", out.String())
}

func TestTableTellsOfAFailedWrite(t *testing.T) {
	w := NewTable(failing{err: assert.AnError}, "row")
	require.ErrorIs(t, w.Close(), assert.AnError)
}
