package frame

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNoticesAreOverheardAndGoBack(t *testing.T) {
	a := newApp(Env{})
	heard, back := a.CaptureNotices()
	a.Err.draw("\r3 of 9 rows")
	fmt.Fprintln(a.Err, "today's backup\n\ncould not be made")
	a.Err.draw("\r\x1b[K")
	assert.Equal(t, []string{"today's backup", "could not be made"}, heard())
	assert.Empty(t, heard())
	back()
	fmt.Fprintln(a.Err, "printed")
	assert.Empty(t, heard())
	fmt.Fprintln(a.Err, "printed too, though somebody still listens")
	assert.Empty(t, heard())
}

// once refuses its first write.
type once struct {
	strings.Builder
	refused bool
}

func (o *once) Write(b []byte) (int, error) {
	if !o.refused {
		o.refused = true
		return 0, assert.AnError
	}
	return o.Builder.Write(b)
}

func TestANoticeThatFailsDoesNotSilenceTheNext(t *testing.T) {
	terminal := &once{}
	s := &Stream{to: terminal}
	fmt.Fprintln(s, "lost")
	fmt.Fprintln(s, "told")
	assert.Equal(t, "told\n", terminal.String())
}
