package draw

import (
	"os"
	"runtime/debug"
	"testing"
)

// TestMain lets garbage grow: the tests make and drop many small shapes, and an eighth of their time went
// into collecting those.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	os.Exit(m.Run())
}
