package draw

import (
	"encoding/xml"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever the text, a reader of XML (the standard library's) gives it back, but for what
// XML cannot write.
func TestEscapedIsReadAsItStands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.RuneFrom([]rune("<>&'\"]\t\n\x00\x1f\ufffe\uffff\u00e9")))).Draw(t, "text")
		var got struct {
			Inside string `xml:",chardata"`
			Beside string `xml:"beside,attr"`
		}
		require.NoError(t, xml.Unmarshal([]byte(`<text beside="`+escaped(text)+`">`+escaped(text)+`</text>`), &got))
		want := strings.Map(func(r rune) rune {
			if r < ' ' && !strings.ContainsRune("\t\n\r", r) || r == 0xFFFE || r == 0xFFFF {
				return '\uFFFD'
			}
			return r
		}, text)
		require.Equal(t, want, got.Inside)
		require.Equal(t, want, got.Beside)
	})
	assert.Equal(t, "&lt;a&gt; &amp; &#34;b&#34; &#39;c&#39;", escaped(`<a> & "b" 'c'`))
	assert.Equal(t, "\uFFFD", escaped("\xff"), "what is no UTF-8")
}
