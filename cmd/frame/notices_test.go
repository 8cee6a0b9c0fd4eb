package frame

import (
	"fmt"
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
}
