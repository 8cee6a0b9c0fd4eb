package frame

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestOverheardLinesAreWhatIsLeftOfThem(t *testing.T) {
	for text, lines := range map[string][]string{
		"":                                   nil,
		"strandwise: a warning\n":            {"strandwise: a warning"},
		"one\n\ntwo\n":                       {"one", "two"},
		"\r3 of 9 rows\r5 of 9 rows\r\x1b[K": nil,
		"\r3 of 9 rows\r\x1b[Kafter\n":       {"after"},
	} {
		assert.Equal(t, lines, finishedLines(text), "%q", text)
	}
}

func TestNoticesAreOverheardAndGoBack(t *testing.T) {
	a := newApp(Env{})
	heard, back := a.CaptureNotices()
	fmt.Fprintln(a.Err, "today's backup could not be made")
	assert.Equal(t, []string{"today's backup could not be made"}, heard())
	assert.Empty(t, heard())
	back()
	fmt.Fprintln(a.Err, "printed")
	assert.Empty(t, heard())
}
