package frame

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type innerBody struct {
	Marks []int `json:"marks"`
}

type wholeBody struct {
	At     time.Time         `json:"at"`
	Rows   []innerBody       `json:"rows"`
	None   []string          `json:"none"`
	One    *innerBody        `json:"one"`
	Absent *innerBody        `json:"absent"`
	Names  map[string]string `json:"names"`
	hidden []int
}

func TestJSONIsOneDocumentWithoutNullLists(t *testing.T) {
	body := wholeBody{
		At:     time.Date(2026, 3, 1, 20, 15, 0, 0, time.FixedZone("", 3600)),
		Rows:   []innerBody{{}, {[]int{1}}},
		One:    &innerBody{},
		Names:  map[string]string{"a<b": "c"},
		hidden: nil,
	}
	assert.Equal(t, `{"schema":3,"at":"2026-03-01T20:15:00+01:00","rows":[{"marks":[]},{"marks":[1]}],"none":[],`+
		`"one":{"marks":[]},"absent":null,"names":{"a<b":"c"}}`+"\n", answered(t, 3, body))
	assert.Nil(t, body.None, "the body itself is left alone")
}

func TestJSONOfAnEmptyBody(t *testing.T) {
	assert.Equal(t, "{\"schema\":1}\n", answered(t, 1, struct{}{}))
	assert.Panics(t, func() { answered(t, 1, []int{1}) })
}

// answered is what is printed of an answer.
func answered(t *testing.T, schema int, body any) string {
	t.Helper()
	var out bytes.Buffer
	a := newApp(Env{Out: &out})
	require.NoError(t, a.AnswerJSON(schema, body))
	require.NoError(t, a.Out.Flush())
	return out.String()
}
