package cmd

import (
	"io"
	"path/filepath"
	"testing"

	"strandwise/cmd/frame"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// meanwhile answers yes, after another terminal did something.
type meanwhile struct {
	other func()
	said  bool
}

func (m *meanwhile) Read(p []byte) (int, error) {
	if m.said {
		return 0, io.EOF
	}
	m.said = true
	m.other()
	return copy(p, "yes\n"), nil
}

// asked runs a command that asks, while another terminal does something before the
// answer.
func asked(t *testing.T, path string, other func(), args ...string) ran {
	t.Helper()
	env := frame.Env{In: &meanwhile{other: other}, InTTY: true, ErrTTY: true}
	return runMain(t, env, append(args, "--store", path)...)
}

// What is dropped was named in the question: rounds knitted while it stood were not.
func TestRoundsKnittedWhileAQuestionStandsStay(t *testing.T) {
	for _, args := range [][]string{{"store", "restore"}, {"pieces", "remove", "hat"}, {"rip", "2"}} {
		path := seededStore(t, planted("hat", 3))
		require.Zero(t, onStore(t, path, "store", "backup").code)
		require.Zero(t, onStore(t, path, "knit").code)
		got := asked(t, path, func() { require.Zero(t, onStore(t, path, "knit", "--to", "6").code) }, args...)
		assert.Equal(t, 1, got.code, "%v: %s", args, got.err)
		assert.Contains(t, got.err, "meanwhile", args)
		assert.Contains(t, got.err, "nothing was saved", args)
		assert.Equal(t, 8, eventsOf(t, path), args)
		got = asked(t, path, func() {}, args...)
		assert.Zero(t, got.code, "%v: %s", args, got.err)
		assert.NotEqual(t, 8, lastEvent(t, path), args)
	}
}

// A store that came while the question stood was not named in it either.
func TestStoreBegunWhileARestoreAsks(t *testing.T) {
	from := seededStore(t, planted("hat", 3))
	path := filepath.Join(t.TempDir(), "pieces.store")
	got := asked(t, path, func() { require.Zero(t, onStore(t, path, "cast-on", "cowl", "../examples/lantern-band.chart").code) }, "store", "restore", from)
	assert.Equal(t, 1, got.code, got.err)
	assert.Contains(t, onStore(t, path, "pieces").out, "cowl")
	got = asked(t, path, func() {}, "store", "restore", from)
	assert.Zero(t, got.code, got.err)
	assert.Contains(t, onStore(t, path, "pieces").out, "hat")
}

// lastEvent is the number of the first piece's last event; 0 where it is gone.
func lastEvent(t *testing.T, path string) int {
	t.Helper()
	if onStore(t, path, "show").code != 0 {
		return 0
	}
	return eventsOf(t, path)
}
