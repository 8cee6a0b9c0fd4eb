package cmd

import (
	"strings"
	"testing"

	"strandwise/cmd/frame"

	"github.com/stretchr/testify/assert"
)

// asksAt runs a command at a terminal with an answer.
func asksAt(t *testing.T, path, answer string, args ...string) ran {
	t.Helper()
	return runMain(t, frame.Env{In: strings.NewReader(answer), InTTY: true, ErrTTY: true}, append(args, "--store", path)...)
}

// heldJSON is what hold answers of places.
type heldJSON struct {
	Hold, Lower   string
	DominantPlace string `json:"dominant_place"`
	Seats         []struct{ Place string }
}

// Where teachers differ, which strand comes from below is asked once, at a terminal, when
// Where teachers differ, which strand comes from below is asked once, at a terminal, when
// the hold is chosen, and again only after an answer that is no place; what is answered decides the places and is kept, and no answer leaves
// what is usual, not sure.
func TestWhichStrandLiesLowerIsAskedOnce(t *testing.T) {
	for said, want := range map[string]string{"2\n": "near strand", "1\n": "far strand", "near-strand\n": "near strand", "3\nleft\n2\n": "near strand", "\n": "", "": ""} {
		path := seededStore(t, planted("hat", 3))
		got := asksAt(t, path, said, "hold", "--hold", "right-one-finger")
		assert.Zero(t, got.code, got.err)
		assert.Contains(t, got.err, "1 far strand, or 2 near strand", said)
		body := mustJSON[heldJSON](t, path, 0, "hold")
		assert.Equal(t, want, body.Lower)
		if want != "" {
			assert.Equal(t, want, body.DominantPlace)
			assert.Equal(t, want, body.Seats[0].Place)
		}
		again := asksAt(t, path, "", "hold", "--method", "twist")
		assert.NotContains(t, again.err, "1 far strand", "it is asked with the hold only")
	}
	path := seededStore(t, planted("hat", 3))
	assert.NotContains(t, asksAt(t, path, "", "hold", "--hold", "one-at-a-time").err, "from below", "all teachers agree")
	assert.NotContains(t, onStore(t, path, "hold", "--hold", "left-one-finger").err, "from below", "nobody to ask")
	got := onStore(t, path, "hold", "--hold", "right-two-fingers", "--lower", "left")
	assert.Equal(t, 2, got.code)
	assert.Contains(t, got.err, "right-index, right-middle")
	got = onStore(t, path, "hold", "--hold", "left-two-fingers", "--lower", "left-middle")
	assert.Zero(t, got.code, got.err)
	done(t, path, "undo")
	assert.Equal(t, "left-one-finger", mustJSON[heldJSON](t, path, 0, "hold").Hold, "one command is undone as one")
}
