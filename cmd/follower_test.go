package cmd

import (
	"testing"
	"testing/synctest"

	"github.com/stretchr/testify/assert"
)

// The end of the input closes the channel; the end of the run does not, or it would be taken for that.
func TestDeliveredClosesOnlyAtTheEndOfInput(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		over := make(chan struct{})
		ended := delivered(over, func() (int, bool) { return 0, false })
		_, more := <-ended
		assert.False(t, more)

		close(over)
		stopped := delivered(over, func() (int, bool) { return 1, true })
		synctest.Wait()
		select {
		case <-stopped:
			t.Error("the channel was closed at the end of the run")
		default:
		}
	})
}
